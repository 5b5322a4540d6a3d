/**
 * What lives here: weights. Scale tickets to tongue, shares and restoration with the doubt a scale step leaves; what a tongue
 * does to the tow vehicle; what moving things changes; every rating with its origin and the weakest link named.
 */

export type { LoadChange, LoadMove } from './change.ts';
export { loadChange, relabelThreshold } from './change.ts';
export type { GradeForce } from './grade.ts';
export { gradeForce } from './grade.ts';
export type { HitchChain, HitchChainInput, HitchPart } from './hitch.ts';
export { ballCapacityTypical, couplingTestLoads, hitchChain, hitchClass, tongueDesignMax } from './hitch.ts';
export type { LoadLimit, OriginRating } from './limits.ts';
export { loadLimit, loadLimits } from './limits.ts';
export type { WeighSingleAxle, WeighTongueScale } from './other-scales.ts';
export { weighSingleAxle, weighTongueScale } from './other-scales.ts';
export * from './ranges.ts';
export type { HitchGeometry, HitchStatics } from './statics.ts';
export { heightRestored, hitchStatics } from './statics.ts';
export type { RigRatings, ThreePassInput, WeighThreePass } from './three-pass.ts';
export { weighThreePass } from './three-pass.ts';
export type { Bounds, CoupledPass, VehiclePass } from './ticket.ts';
export { SCALE_STEP } from './ticket.ts';
export type { ShareDoubt, TongueBand } from './tongue-band.ts';
export { restoredCautions, tongueCautions } from './tongue-band.ts';
export type { AboardItem, AxleLoads, TowVehicleInput, TowVehicleLoads } from './tow-vehicle.ts';
export { payloadLeft, towVehicle } from './tow-vehicle.ts';
