import type { Upkeep } from '../catalog/index.ts';
import { dateText, dayText } from './clock-run.ts';
import type { LastDone } from './evidence.ts';
import type { PastLimit } from './past-limit.ts';
import type { Scene } from './scene.ts';
import type { Told } from './tell.ts';
import type { ClockOutlook, UpkeepState } from './types.ts';

interface Standing {
  readonly upkeep: Upkeep;
  readonly state: UpkeepState;
  readonly governing: ClockOutlook;
  readonly told: Told;
  readonly last: LastDone | undefined;
  readonly past: PastLimit | undefined;
}

const percent = (chance: number): string =>
  chance < 0.01 ? 'under 1 %' : chance > 0.99 && chance < 1 ? 'over 99 %' : `${Math.round(chance * 100)} %`;

/** One sentence with its numbers, from the same figures as the item itself. */
export function whyText(scene: Scene, { state, governing, told, last, past }: Standing): string {
  const next = told.chanceByTrip[0];
  const trip = next ? scene.draws.trips.find((ahead) => ahead.id === next.trip) : undefined;
  switch (state) {
    case 'failed':
      if (past) return `Past its limit: ${past.text}; nothing since says that it was put right.`;
      return `Failed on ${dateText(last!.on)}; nothing since says that it was put right.`;
    case 'unproven':
      return `Unproven. ${governing.text}${governing.text.endsWith('.') ? '' : '.'}`;
    case 'due':
      return `Run out. ${governing.text}.`;
    case 'runs': {
      if (!next || !trip) return `${governing.text}. No trip is planned.`;
      const chance =
        next.chance === 0
          ? `It outlasts ${trip.name} (back ${dayText(trip.back)})`
          : `Chance to run out before the return from ${trip.name} on ${dayText(trip.back)}: ${percent(next.chance)}`;
      return `${governing.text}. ${chance}.`;
    }
  }
}
