/**
 * What lives here: may this rig leave on this trip? The checks, one file a question, each a list of findings with its evidence and
 * its sources; the judgement, which is the worst finding that counts; the sentence on top. Unknown is never fine: a check that
 * cannot be made is unproven. Pure.
 */

export { type LoadFigures, loadFigures } from './findings/load-figures.ts';
export {
  pressureForLoad,
  REFERENCE_TEMPERATURE,
  requiredPressure,
  type TireOnRig,
  type TiresSeen,
  tiresOnRig,
  wheelLoad,
} from './findings/tire-facts.ts';
export { type LoadMargin, loadMargins } from './load-margins.ts';
export {
  departureRound,
  type RoundMark,
  type RoundPart,
  type RoundRow,
  type RoundStanding,
  STATIONS,
  type Station,
} from './round.ts';
export { sendOff } from './send-off.ts';
export { minutesTogether } from './sentence.ts';
export { type DutyTold, dutiesOf, type FindingsTold, findingsTold } from './told.ts';
export type {
  Finding,
  FindingGroup,
  FindingKind,
  Judgement,
  Proof,
  SendOff,
  Takes,
  Weight,
} from './types.ts';
