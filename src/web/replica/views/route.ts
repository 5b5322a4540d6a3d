import { settingOf } from '../../../logbook/index.ts';
import { unwrap } from '../../../problem/index.ts';
import { type Quantity, quantity } from '../../../quantity/index.ts';
import { routeOfGpx, routeOfPlaces, routeText, tenths } from '../../../routes/index.ts';
import type { Keeper } from '../keeper.ts';

/** A trip's way as its form takes it over. */
export interface RouteView {
  readonly length: string;
  readonly unit: 'mi' | 'km';
  readonly stops: readonly { readonly name: string; readonly mile: Quantity }[];
  /** Legs, and what the length rests on. */
  readonly text: string;
}

/** The way in a file: GPX where it is XML, else a list of places or legs. */
export function routeView(keeper: Keeper, text: string): RouteView {
  const unit = settingOf(keeper.state, 'units') === 'metric' ? 'km' : 'mi';
  const route = unwrap((/^\uFEFF?\s*</.test(text) ? routeOfGpx : routeOfPlaces)(text, unit));
  return {
    length: String(tenths(route.distance.value)),
    unit,
    stops: route.stops.map(({ name, mile }) => ({ name, mile: quantity(tenths(mile.value), unit) })),
    text: routeText(route),
  };
}
