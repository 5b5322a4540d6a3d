/** What these owners do together: a day's jobs, as upkeep and part. `since` is the year in which they took the habit up. */
import { AXLES, TOW_WHEELS, WHEELS } from './rig.ts';

export type Job = readonly [upkeep: string, parts: readonly string[], since?: number];

const each = (prefix: string): string[] => WHEELS.map((wheel) => `${prefix}-${wheel}`);
export const onAxle = (prefix: string, axle: 1 | 2): string[] =>
  WHEELS.filter((wheel) => wheel.startsWith(`axle-${axle}`)).map((wheel) => `${prefix}-${wheel}`);

export const bearings = each('bearings');
export const brakes = each('brake');
export const tires = each('tire');
export const wheels = each('wheel');

/** Wheels off, one axle: the day's heart every spring. */
export const hubs = (axle: 1 | 2): Job[] => [
  ['repack-bearings', onAxle('bearings', axle)],
  ['inspect-linings', onAxle('brake', axle)],
  ['inspect-wheel', onAxle('wheel', axle), 2022],
];

export const gasAndWater: readonly Job[] = [
  ['flush-antifreeze', ['fresh-water']],
  ['sanitize-water', ['fresh-water']],
  ['test-pump-hold', ['fresh-water'], 2022],
  ['clean-pump-strainer', ['pump'], 2022],
  ['flush-water-heater', ['water-heater']],
  ['work-relief-valve', ['water-heater']],
  ['clean-heater-burner', ['water-heater'], 2022],
  ['lubricate-waste-valves', ['waste'], 2022],
  ['service-toilet-seal', ['toilet'], 2023],
  ['test-gas-leak-drop', ['lp-system']],
  ['check-regulator', ['regulator'], 2022],
  ['inspect-lp-hoses', ['lp-hoses']],
  ['weigh-lp-cylinder', ['cylinder-left', 'cylinder-right'], 2024],
  ['inspect-lp-cylinder', ['cylinder-left', 'cylinder-right']],
  ['inspect-gas-piping', ['lp-system']],
];

export const kitchen: readonly Job[] = [
  ['service-furnace', ['furnace']],
  ['clean-absorption-burner', ['refrigerator']],
  ['check-refrigerator-vents', ['refrigerator'], 2022],
  ['clean-cooktop', ['cooktop'], 2022],
  ['wash-air-conditioner-filter', ['air-conditioner'], 2022],
  ['snug-air-conditioner', ['air-conditioner'], 2023],
];

export const roofAndBody: readonly Job[] = [
  ['wash-roof', ['roof']],
  ['inspect-roof', ['roof']],
  ['inspect-body-seals', ['body-seals']],
  ['sweep-moisture', ['body'], 2022],
  ['oil-locks', ['locks'], 2022],
  ['check-steps', ['steps'], 2022],
  ['clear-weep-holes', ['windows'], 2022],
  ['clean-vent-fan', ['vents'], 2022],
  ['check-entry-door', ['door'], 2022],
  ['clean-slide-rails', ['slide']],
  ['run-slides', ['slide']],
  ['condition-slide-seals', ['slide-seals']],
  ['clean-awning', ['awning']],
  ['wash-underside', ['frame'], 2023],
  ['wash-body', ['body'], 2023],
];

export const towVehicle: readonly Job[] = [
  ['check-tow-cooling', ['cooling']],
  ['inspect-tow-brakes', ['tow-brakes'], 2022],
  ['check-receiver', ['receiver']],
  ['check-tow-wiring', ['tow-wiring'], 2022],
  ['check-tow-battery', ['tow-battery'], 2022],
  ['check-tow-wheel-nuts', ['tow-wheel-nuts']],
  ['inspect-tow-tire', TOW_WHEELS],
];

/** After the regulator was opened for the gauge. */
export const joints: readonly Job[] = [['bubble-test-joints', ['lp-system']]];

export const oil: readonly Job[] = [['change-tow-oil', ['engine']]];

export const summer: readonly Job[] = [
  ['inspect-roof', ['roof']],
  ['inspect-body-seals', ['body-seals'], 2022],
  ['exercise-generator', ['generator'], 2022],
  ['inspect-lp-cylinder', ['cylinder-left', 'cylinder-right'], 2022],
];

export const generator: readonly Job[] = [
  ['change-generator-oil', ['generator']],
  ['clean-generator-filter', ['generator']],
  ['service-generator-plug', ['generator'], 2022],
];

export const alarms: readonly Job[] = [
  ['test-lp-alarm', ['lp-alarm']],
  ['clean-lp-alarm', ['lp-alarm'], 2022],
  ['service-co-alarm', ['co-alarm']],
  ['service-smoke-alarm', ['smoke-alarm']],
  ['look-over-extinguisher', ['extinguisher']],
  ['open-escape-window', ['escape-window'], 2022],
  ['check-emergency-kit', ['emergency-kit'], 2022],
  ['inspect-chocks', ['chocks'], 2022],
];

export const runningGear: readonly Job[] = [
  ['adjust-brakes', brakes],
  ['check-hub-immersion', bearings],
  ['inspect-tire', tires],
  ['inspect-springs', AXLES.map((axle) => `springs-${axle}`), 2022],
  ['torque-spring-bolts', AXLES.map((axle) => `springs-${axle}`), 2023],
  ['check-axle-mounts', AXLES.map((axle) => axle), 2023],
  ['inspect-frame', ['frame']],
  ['inspect-studs', ['wheel-nuts'], 2022],
  ['inspect-spare-carrier', ['spare'], 2022],
  ['lubricate-stabilizers', ['stabilizers'], 2022],
  ['check-alignment', AXLES, 2024],
];

export const hitchAndWires: readonly Job[] = [
  ['lubricate-tongue-jack', ['jack']],
  ['adjust-coupler-latch', ['coupler'], 2022],
  ['check-ball', ['ball']],
  ['service-wd-hitch', ['hitch']],
  ['torque-wd-hitch', ['hitch'], 2022],
  ['clean-seven-way', ['connector']],
  ['check-brake-wiring', ['brake-wiring']],
  ['check-brake-controller', ['controller']],
  ['test-breakaway', ['breakaway-switch']],
  ['charge-breakaway-battery', ['breakaway-battery']],
  ['clean-battery-terminals', ['house-battery'], 2022],
  ['top-up-battery', ['house-battery']],
  ['check-converter', ['converter'], 2023],
  ['test-battery-capacity', ['house-battery'], 2025],
  ['check-dc-distribution', ['dc-distribution'], 2023],
  ['inspect-shore-cord', ['shore-cord']],
  ['test-gfci', ['gfci'], 2022],
];

/** The morning of leaving. */
export const departure: readonly Job[] = [
  ['check-wheel-nuts', ['wheel-nuts']],
  ['inspect-tire', tires, 2022],
  ['check-coupler', ['coupler']],
  ['grease-coupler', ['coupler']],
  ['check-chains', ['chains']],
  ['test-breakaway', ['breakaway-switch']],
  ['test-lights', ['lights']],
  ['prove-brakes', brakes],
  ['shut-gas-for-travel', ['lp-system']],
  ['test-lp-alarm', ['lp-alarm']],
  ['test-co-alarm', ['co-alarm']],
  ['test-smoke-alarm', ['smoke-alarm']],
  ['look-over-extinguisher', ['extinguisher']],
  ['inspect-shore-cord', ['shore-cord'], 2022],
  ['check-water-regulator', ['water-hose'], 2022],
  ['service-wd-hitch', ['hitch'], 2023],
  ['inspect-tow-tire', TOW_WHEELS],
  ['check-tow-wheel-nuts', ['tow-wheel-nuts']],
  ['test-pedestal', ['shore-cord']],
  ['stow-hoses', ['waste']],
  ['raise-stabilizers', ['stabilizers']],
  ['lock-slides', ['slide']],
  ['close-vents', ['vents']],
  ['lower-antenna', ['antenna']],
  ['fold-steps', ['steps']],
  ['check-awning-locks', ['awning']],
  ['check-pin-and-clip', ['receiver']],
  ['check-bars-and-clips', ['hitch']],
  ['check-mirrors', ['mirrors']],
  ['check-handbooks-aboard', ['registration']],
];

export const layUp: readonly Job[] = [
  ['lay-up-water', ['fresh-water']],
  ['rinse-waste-tanks', ['waste']],
  ['wash-underside', ['frame'], 2022],
  ['keep-battery-charged', ['house-battery']],
  ['charge-breakaway-battery', ['breakaway-battery'], 2022],
  ['lay-up-generator', ['generator'], 2022],
  ['park-for-winter', ['stored']],
  ['cover-trailer', ['stored'], 2023],
  ['proof-against-mice', ['body'], 2022],
  ['inspect-roof', ['roof']],
  ['inspect-body-seals', ['body-seals'], 2022],
  ['lubricate-tongue-jack', ['jack'], 2022],
  ['lubricate-stabilizers', ['stabilizers'], 2022],
  ['feel-bearings', bearings, 2022],
  ['clean-seven-way', ['connector'], 2022],
];

/** The jobs of a program as the owners did it that year. */
export function jobsOf(program: readonly Job[], year: number): { upkeep: string; part: string; outcome: 'good' }[] {
  return program.flatMap(([upkeep, parts, since = 0]) =>
    year < since ? [] : parts.map((part) => ({ upkeep, part, outcome: 'good' as const })),
  );
}
