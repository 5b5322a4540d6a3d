import files from 'virtual:catalog-files';
import { type Catalog, loadCatalog } from '../catalog/index.ts';
import { openDesk } from '../desk/index.ts';
import type { RigState } from '../logbook/index.ts';
import { unwrap } from '../problem/index.ts';

let loaded: Catalog | undefined;

/** The trade's knowledge that the program carries. It was checked when it was built; what is wrong with it now is our mistake. */
export function shippedCatalog(): Catalog {
  loaded ??= unwrap(loadCatalog(files));
  return loaded;
}

/** The catalog as the owner of this rig has it. */
export function ownCatalog({ whole, now }: { readonly whole: RigState; readonly now: string }): Catalog {
  return openDesk(whole, shippedCatalog(), { now }).catalog;
}
