import type { PartKind } from '../../../catalog/index.ts';
import { formatLabelDate } from '../../../dates/index.ts';
import { partsOf, settingOf, vehicleOf } from '../../../logbook/index.ts';
import type { Keeper } from '../keeper.ts';
import { factText } from './entry-text.ts';
import { toldBy } from './told.ts';

/** One stop of the walk-round: a kind of part, where it is to be looked for, what to read off it. */
export interface WalkStop {
  readonly kind: string;
  readonly name: string;
  readonly group: string;
  readonly identify: readonly string[];
  /** Places where one is to be expected and none is on record. */
  readonly open: readonly string[];
  readonly known: readonly { readonly id: string; readonly text: string }[];
  /** The owner said that this rig has none. */
  readonly absent: boolean;
  readonly severity: boolean;
}

export interface WalkView {
  readonly enrolled: { readonly trailer: boolean; readonly tow: boolean };
  readonly stops: readonly WalkStop[];
  readonly done: number;
}

/** The walk-round: the trailer in the order of the catalog, then what tows it. */
export function walkView(keeper: Keeper): WalkView {
  const told = toldBy(keeper);
  const parts = partsOf(keeper.state);
  const kinds = [...keeper.catalog.partKinds.values()].sort(
    (a, b) => Number(a.vehicle === 'tow') - Number(b.vehicle === 'tow'),
  );
  const stops = kinds.map((kind): WalkStop => {
    const mine = parts.filter((part) => part.kind === kind.id);
    const places = new Set(mine.map((part) => part.place));
    return {
      ...{ kind: kind.id, name: kind.name, group: kind.group, identify: kind.identify },
      open: placesFor(keeper, kind).filter((place) => (place === '' ? mine.length === 0 : !places.has(place))),
      known: mine.map((part) => ({
        id: part.id,
        text: [
          part.place,
          part.fit.body.madeOn ? `made ${formatLabelDate(part.fit.body.madeOn)}` : '',
          ...Object.values(part.facts)
            .slice(0, 3)
            .map((value) => factText(told, value)),
        ]
          .filter((text) => text !== '')
          .join(', '),
      })),
      absent: settingOf(keeper.state, 'fact', `absent-${kind.id}`) !== undefined,
      severity: (keeper.catalog.upkeepsOf.get(kind.id) ?? []).some((upkeep) => upkeep.severity === 'safety'),
    };
  });
  return {
    enrolled: {
      trailer: vehicleOf(keeper.state, 'trailer') !== undefined,
      tow: vehicleOf(keeper.state, 'tow') !== undefined,
    },
    stops,
    done: stops.filter((stop) => stop.known.length > 0 || stop.absent).length,
  };
}

function placesFor(keeper: Keeper, kind: PartKind): string[] {
  const axles = vehicleOf(keeper.state, kind.vehicle)?.body.axles ?? 2;
  const numbers = Array.from({ length: axles }, (_, index) => index + 1);
  if (kind.vehicle === 'tow' && kind.per === 'wheel') return ['front left', 'front right', 'rear left', 'rear right'];
  if (kind.per === 'wheel') return numbers.flatMap((axle) => [`axle ${axle}, left`, `axle ${axle}, right`]);
  if (kind.per === 'axle') return numbers.map((axle) => `axle ${axle}`);
  return [''];
}
