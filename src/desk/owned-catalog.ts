import { type Catalog, type OwnerCatalog, withOverrides } from '../catalog/index.ts';
import { type RigState, settingsOf } from '../logbook/index.ts';

const KINDS = ['override', 'own-upkeep', 'own-part-kind'] as const;
/** The catalogs laid over each catalog lately, by the settings laid over it: what was looked ahead on one still holds then. */
const laid = new WeakMap<Catalog, { readonly from: readonly unknown[]; readonly owned: OwnerCatalog }[]>();
const LAID_KEPT = 3;
/** The catalog under one that the owner's settings were laid over. */
const under = new WeakMap<Catalog, Catalog>();

/**
 * The catalog as the owner has it: their handbook's figures (`override/…`), their own upkeeps and kinds of part laid over what the
 * trade says. Settings that do not hold are left out and told as problems. The same settings give the same catalog object. Laid over
 * a catalog that is the owner's already, the settings of `state` take the place of the earlier ones.
 */
export function ownedCatalog(state: RigState, given: Catalog): OwnerCatalog {
  const catalog = under.get(given) ?? given;
  const settings = KINDS.flatMap((kind) =>
    [...settingsOf(state, kind)].map(([about, value]) => ({ key: `${kind}/${about}`, value: value as unknown })),
  ).sort((a, b) => (a.key < b.key ? -1 : 1));
  if (settings.length === 0) return { catalog, problems: [] };
  const from = settings.flatMap(({ key, value }) => [key, value]);
  const known = laid.get(catalog) ?? [];
  const same = known.find((one) => one.from.length === from.length && one.from.every((item, i) => item === from[i]));
  if (same) return same.owned;
  const owned = withOverrides(catalog, settings);
  under.set(owned.catalog, catalog);
  laid.set(catalog, [{ from, owned }, ...known].slice(0, LAID_KEPT));
  return owned;
}
