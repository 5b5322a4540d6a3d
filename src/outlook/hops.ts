import type { OdometerTrack, VehicleRole } from '../logbook/index.ts';
import type { KnownTrip, TripModel } from './usage.ts';

/** Miles driven outside trips: a Gamma belief of how many a day, and in what lumps they come. */
export interface Hops {
  readonly shape: number;
  readonly milesPerDay: number;
  /** Miles of one hop, as far as their scatter goes. */
  readonly hopMiles: number;
}

/** Prior of miles a day that no trip explains, with its weight in days, and the length of one hop, worth four stretches. Assumptions. */
export const HOPS_PRIOR = {
  trailer: { milesPerDay: 0.3, days: 60, hopMiles: 5 },
  tow: { milesPerDay: 25, days: 60, hopMiles: 20 },
} as const;
const HOP_STRETCHES = 4;
/** No more than this many times the prior's hop: what scatters wilder is a trip nobody wrote down. */
const HOP_MOST = 5;

/** What an odometer went up by between two readings besides trips, and the days on which it could. */
export interface Stretch {
  readonly miles: number;
  readonly days: number;
  /** Whether a trip was under way at either end, so that its miles had to be divided by guess. */
  readonly cut: boolean;
}

/** The stretches between odometer readings since the first trip on record. */
export function betweenTrips(
  { points }: OdometerTrack,
  role: VehicleRole,
  known: readonly KnownTrip[],
  unfinished: readonly TripModel[],
): Stretch[] {
  // Before the first trip on record the owner may have travelled without writing it down: that teaches nothing of hops.
  const firstTrip = known.length ? Math.min(...known.map((trip) => trip.left)) : -Infinity;
  const since = points.filter((point) => point.day >= firstTrip - 1);
  const trips = [
    ...known.map((trip) => ({ leave: trip.left, back: trip.back, miles: trip.miles })),
    ...unfinished.map((trip) => ({ leave: trip.leave, back: trip.back, miles: trip.plannedMiles * trip.chance })),
  ];
  return since.slice(1).flatMap((point, i) => {
    const before = since[i]!;
    if (point.day === before.day) return [];
    let miles = point.totalMiles - before.totalMiles;
    let days = point.day - before.day;
    let cut = false;
    for (const trip of trips) {
      const within = Math.min(trip.back, point.day) - Math.max(trip.leave, before.day + 1) + 1;
      if (within <= 0) continue;
      const whole = trip.back - trip.leave + 1;
      miles -= (trip.miles * within) / whole;
      if (role === 'trailer') days -= within;
      cut ||= within < whole;
    }
    return [{ miles, days: Math.max(0, days), cut }];
  });
}

/** The miles and days of all stretches; miles of trips that ran short of what was written down weigh against the rest. */
export function milesAndDays(stretches: readonly Stretch[]): { readonly miles: number; readonly days: number } {
  const sum = (of: (stretch: Stretch) => number): number =>
    stretches.reduce((total, stretch) => total + of(stretch), 0);
  return {
    miles: Math.max(
      0,
      sum(({ miles }) => miles),
    ),
    days: sum(({ days }) => days),
  };
}

/** What those stretches teach of hops. */
export function hopsOf(role: VehicleRole, stretches: readonly Stretch[]): Hops {
  const prior = HOPS_PRIOR[role];
  const { miles, days } = milesAndDays(stretches);
  const milesPerDay = (prior.milesPerDay * prior.days + miles) / (prior.days + days);
  // Lumps of h miles make a stretch's miles scatter about their mean with a variance of h times that mean.
  const whole = stretches.filter((stretch) => !stretch.cut && stretch.days > 0);
  const excess = whole.map(
    (stretch) => (stretch.miles - milesPerDay * stretch.days) ** 2 / (milesPerDay * stretch.days),
  );
  const hopMiles =
    (HOP_STRETCHES * prior.hopMiles + excess.reduce((total, x) => total + x, 0)) / (HOP_STRETCHES + whole.length);
  const lump = Math.min(hopMiles, HOP_MOST * prior.hopMiles);
  return { shape: (milesPerDay * (prior.days + days)) / lump, milesPerDay, hopMiles: lump };
}
