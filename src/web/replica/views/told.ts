import { settingOf, type Teller } from '../../../logbook/index.ts';
import { formatQuantity, type Quantity, type System } from '../../../quantity/index.ts';
import type { Keeper } from '../keeper.ts';

/** What an entry is told against; `about` keeps to one part of an afternoon's work. */
export interface Told extends Teller {
  readonly system: System;
}

export const toldBy = (keeper: Keeper): Told => ({
  state: keeper.state,
  catalog: keeper.catalog,
  system: settingOf(keeper.state, 'units') ?? 'us',
});

/** A quantity in the owner's units. */
export function quantityText(told: Pick<Told, 'system'>, q: Quantity, digits?: number): string {
  return formatQuantity(q, { system: told.system, ...(digits === undefined ? {} : { digits }) });
}
