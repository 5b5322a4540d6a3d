import type { Result } from '../../../problem/index.ts';
import type { Keeper } from '../keeper.ts';
import type { Known } from './form-choices.ts';
import type { Field } from './form-fields.ts';
import { override } from './override.ts';
import { call, singleDay, speed, week } from './own-figures.ts';
import { ownPartKind } from './own-part-kind.ts';
import { ownUpkeep } from './own-upkeep.ts';

/** One of the owner's own figures, ready to be written; `notes` are to be said once more before. */
export interface OwnSetting {
  readonly key: string;
  readonly value: unknown;
  readonly notes?: readonly string[];
}

/** What was filled in under a name, without spaces round it; empty where nothing was. */
export type Values = (name: string) => string;

/** How one of the owner's own figures is asked for, and how it becomes a setting. Problems name the field they are of. */
export interface OwnForm {
  /** `chosen`: what was chosen in fields that change what else is asked. */
  fields(keeper: Keeper, chosen: Known): readonly Field[];
  read(keeper: Keeper, values: Values): Result<OwnSetting>;
}

/** Every own figure that is more than one field on a page. Each is a `set` entry; the newest holds. */
const OWN_FORMS = { speed, week, singleDay, call, override, ownUpkeep, ownPartKind } as const satisfies Readonly<
  Record<string, OwnForm>
>;
export type OwnFormId = keyof typeof OWN_FORMS;

export const ownFields = (keeper: Keeper, id: OwnFormId, chosen: Known): readonly Field[] =>
  OWN_FORMS[id].fields(keeper, chosen);

export const ownSetting = (keeper: Keeper, id: OwnFormId, values: Known): Result<OwnSetting> =>
  OWN_FORMS[id].read(keeper, (name) => (values[name] ?? '').trim());
