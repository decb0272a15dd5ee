// @ts-check
import { fileURLToPath } from 'node:url';
import { soak } from './run.mjs';

/**
 * `npm run soak [MINUTES]`: the compiled service under a mixed load, seen through /proc of Linux; exit 1 where something is
 * not as it is due.
 */
const minutes = Number(process.argv[2] ?? 2);
const seed = Number(process.env.LINEBUDGET_SEED ?? Math.floor(Math.random() * 2 ** 31));
const main = fileURLToPath(new URL('../../dist/cli/main.js', import.meta.url));

console.log(`${minutes} minutes, LINEBUDGET_SEED=${seed}`);
const command = [main, 'serve', '--port', '0'];
const alarms = await soak({ command, seconds: minutes * 60, seed, large: true, print: console.log });
for (const alarm of alarms) console.error(`ALARM ${alarm}`);
console.log(alarms.length === 0 ? 'fine' : `${alarms.length} alarms`);
process.exitCode = alarms.length === 0 ? 0 : 1;
