import type { Clock, SetUp, Severity, Upkeep } from '../../src/catalog/index.ts';
import { catalogOf, mi, partKind, upkeep } from '../../test/support/rig.ts';

/** The twenty-two duties of the value study. Minutes, money and intervals are invented, in the order of the trade's usual ones. */
export interface StudyDuty {
  readonly id: string;
  readonly vehicle: 'trailer' | 'tow';
  readonly miles?: number;
  readonly months?: number;
  readonly nights?: number;
  readonly minutes: number;
  readonly parts: number;
  readonly setup: string | null;
  readonly severity: Severity;
  readonly failure: { readonly cost: number; readonly steepness: number };
}

const duty = (
  id: string,
  clocks: Pick<StudyDuty, 'miles' | 'months' | 'nights'>,
  [minutes, parts, setup]: readonly [number, number, string | null],
  [severity, cost, steepness]: readonly [Severity, number, number],
  vehicle: 'trailer' | 'tow' = 'trailer',
): StudyDuty => ({ id, vehicle, ...clocks, minutes, parts, setup, severity, failure: { cost, steepness } });

const each = (ids: readonly string[], make: (id: string) => StudyDuty): StudyDuty[] => ids.map(make);

export const DUTIES: readonly StudyDuty[] = [
  ...each(['bearings-1l', 'bearings-1r', 'bearings-2l', 'bearings-2r'], (id) =>
    duty(id, { miles: 12_000, months: 12 }, [35, 6, 'jacked'], ['safety', 1_800, 0.8]),
  ),
  ...each(['brakes-adjust-1', 'brakes-adjust-2'], (id) =>
    duty(id, { miles: 3_000 }, [20, 0, 'jacked'], ['safety', 900, 0.4]),
  ),
  ...each(['linings-1', 'linings-2'], (id) => duty(id, { miles: 20_000 }, [60, 70, 'jacked'], ['safety', 1_200, 0.8])),
  duty('spring-bolts', { miles: 6_000, months: 12 }, [25, 4, 'jacked'], ['damage', 700, 0.4]),
  duty('coupler', { miles: 5_000, months: 12 }, [15, 3, null], ['safety', 800, 0.4]),
  duty('breakaway-battery', { months: 24 }, [15, 35, null], ['safety', 600, 0.4]),
  duty('roof-seals', { months: 12 }, [120, 30, 'ladder'], ['damage', 2_500, 0.5]),
  duty('window-seals', { months: 24 }, [60, 15, 'ladder'], ['comfort', 300, 0.3]),
  duty('vent-lids', { months: 18 }, [20, 5, 'ladder'], ['damage', 400, 0.3]),
  duty('anode', { nights: 60 }, [30, 20, 'drained'], ['damage', 500, 0.5]),
  duty('sanitize', { months: 6 }, [40, 5, 'drained'], ['comfort', 150, 0.5]),
  duty('gas-leak-test', { months: 12 }, [30, 0, null], ['safety', 500, 0.3]),
  duty('furnace', { months: 24 }, [45, 0, null], ['comfort', 250, 0.3]),
  duty('tow-oil', { miles: 7_500, months: 12 }, [40, 45, 'hood'], ['damage', 2_500, 0.5], 'tow'),
  duty('tow-transmission', { miles: 30_000 }, [90, 90, 'hood'], ['damage', 3_500, 0.6], 'tow'),
  duty('tow-coolant', { months: 48 }, [60, 40, 'hood'], ['damage', 1_500, 0.5], 'tow'),
  duty('tow-air-filter', { miles: 15_000 }, [10, 20, 'hood'], ['comfort', 150, 0.3], 'tow'),
];

export const SETUP_MINUTES: Readonly<Record<string, number>> = { jacked: 45, ladder: 20, drained: 30, hood: 15 };

const source = 'practice';

function clocksOf({ miles, months, nights }: StudyDuty): Clock[] {
  return [
    ...(miles === undefined ? [] : [{ kind: 'miles' as const, every: mi(miles), source }]),
    ...(months === undefined ? [] : [{ kind: 'months' as const, every: months, source }]),
    ...(nights === undefined ? [] : [{ kind: 'nights' as const, every: nights, source }]),
  ];
}

const upkeepOf = (one: StudyDuty): Upkeep =>
  upkeep(one.id, one.id, clocksOf(one), {
    minutes: one.minutes,
    severity: one.severity,
    setups: one.setup === null ? [] : [one.setup],
    failure: { ...one.failure, consequence: 'It fails on the road' },
    consumables: one.parts ? [{ what: one.id, quantity: '1', leadDays: 0, cost: one.parts }] : [],
  });

const setups: SetUp[] = Object.entries(SETUP_MINUTES).map(([id, minutes]) => ({
  id,
  title: id,
  minutes,
  tools: [],
  steps: [],
  cautions: [],
}));

export const STUDY_CATALOG = catalogOf(
  DUTIES.map((one) => partKind(one.id, { vehicle: one.vehicle })),
  DUTIES.map(upkeepOf),
  setups,
);
