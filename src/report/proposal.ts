import type { Segment } from '../plant/plant.js';
import type { Moves } from '../sizing/moves/moves.js';
import type { Proposal } from '../sizing/proposal.js';
import { toMa } from '../units.js';
import { reportChoice } from './choice.js';
import type { ReportMoves, ReportProposal } from './proposal-shape.js';
import { reportPlan } from './split-plan.js';

/** A proposal as the report of one of its segments shows it. */
export function reportProposal(proposal: Proposal, segment: Segment): ReportProposal {
  const { action, because, segments, loadUa, plannedUa, newCouplers, choice, others, plan, moves, conditions } =
    proposal;
  return {
    action,
    because,
    with: segments.filter((one) => one !== segment).map(({ id }) => id),
    loadMa: toMa(loadUa),
    plannedMa: toMa(plannedUa),
    newCouplers: { count: newCouplers.count, ma: toMa(newCouplers.ua) },
    choice: choice && reportChoice(choice),
    others: others.map(reportChoice),
    plan: plan && reportPlan(plan),
    moves: moves && reportMoves(moves),
    conditions: [...conditions],
  };
}

function reportMoves({ to, devices, movedUa, assumedUa, leftUa, marginThereUa, ...said }: Moves): ReportMoves {
  return {
    nearness: said.nearness,
    sharedPlaces: [...said.sharedPlaces],
    to: to.id,
    devices: devices.map(({ id }) => id),
    movedMa: toMa(movedUa),
    assumedDevices: said.assumedDevices,
    assumedMa: toMa(assumedUa),
    leftMa: toMa(leftUa),
    leftThereMa: toMa(marginThereUa),
    isLeast: said.isLeast,
    isVoltageOpen: said.isVoltageOpen,
    conditions: [...said.conditions],
  };
}
