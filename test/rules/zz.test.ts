import { it } from 'vitest';
import { balanceOf } from '../../src/electrical/balance.js';
import { installationRule } from '../../src/rules/rule.js';
import { RULES } from '../../src/rules/index.js';
import { runRules } from '../../src/rules/run.js';
import { contextOf, consumer, consumers, supply, coupler, coverageByLabel, type PlantSpec } from '../support/plants.js';
const show = (n: string, p: PlantSpec) => {
  const c = contextOf(p); const r = runRules(RULES, c);
  console.log(n, c.balances.map(b => [b.segment.line.address, b.segment.number, b.verdict, b.load.totalUa, b.segment.loads.length]), r.findings.map(f => f.rule.id + ': ' + f.finding.message),
   r.coverage.filter(c=>c.status==='skipped' && r.findings.some(f=>f.rule.id===c.rule && f.finding.segments.includes(c.segment!))).map(c=>[c.rule,c.missing]));
};
it('x', () => {
  show('bridge on radio first', { lines: [{ line: '1.1', segments: [{number:1, medium:'MT-2', devices:[consumer(5,10)]},{number:2,devices:[supply(320), {...coupler(undefined,2)}]}] }] });
  show('stray', { lines: [{ line: '1.0', segments: [[supply(320), ...consumers(25,10)],[supply(320), consumer(40,10)]], devices: [consumer(50,10)] }, {line:'1.1', segments:[[supply(160), coupler(10)]]}] });
  show('own additional', { lines: [{ line: '1.1', segments: [[supply(320), consumer(5,10,{additionalAddresses:[5]})]]}] });
  show('none product', { lines: [{ line: '1.1', segments: [[supply(320), consumer(5,10,{noProduct:true})]]}] });
  show('no addr coupler old', { schema: 14, lines: [{ line: '1.1', devices: [supply(320), consumer(5,10), {ma:5, is:{isCoupler:true}}]}] });
  show('reach NaN', { lines: [{ line: '1.1', segments: [[supply(320), consumer(5,0)]]}], policy: {leastSupplyV: 22.5} });
  console.log(JSON.stringify(contextOf({ lines: [{ line: '1.1', segments: [[supply(320), consumer(5,0)]]}], policy: {leastSupplyV: 22.5} }).balances[0]!.reach));
  console.log(JSON.stringify(contextOf({ lines: [{ line: '1.1', segments: [[supply(320), consumer(5,500)]]}], policy: {loopOhmPerKm: 72} }).balances[0]!.reach));
});
