import lists from 'virtual:catalog';
import { type Catalog, catalogOfLists } from '../catalog/index.ts';
import { openDesk } from '../desk/index.ts';
import type { RigState } from '../logbook/index.ts';

let loaded: Catalog | undefined;

/** The trade's knowledge that the program carries. It was checked when it was built. */
export function shippedCatalog(): Catalog {
  loaded ??= catalogOfLists(lists);
  return loaded;
}

/** The catalog as the owner of this rig has it. */
export function ownCatalog({ whole, now }: { readonly whole: RigState; readonly now: string }): Catalog {
  return openDesk(whole, shippedCatalog(), { now }).catalog;
}
