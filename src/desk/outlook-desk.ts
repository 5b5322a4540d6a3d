import type { Catalog } from '../catalog/index.ts';
import { type RigState, soundState } from '../logbook/index.ts';
import { type LookOptions, lookAhead, type Outlook, type OutlookModel } from '../outlook/index.ts';
import { fail, type Problem, type Result } from '../problem/index.ts';
import { type SendOff, sendOff } from '../sendoff/index.ts';
import { ownedCatalog } from './owned-catalog.ts';

/** One rig on one day, ready to be asked whatever needs no plan. Apart from `Desk`, so that a first screen need not carry the planner. */
export interface OutlookDesk {
  readonly state: RigState;
  /** As the owner has it: their handbook's figures laid over the one given. */
  readonly catalog: Catalog;
  /** The owner's settings that could not be laid over the catalog, each with its reason. */
  readonly catalogProblems: readonly Problem[];
  readonly now: string;
  /** When each upkeep runs out. */
  outlook(): Outlook;
  outlookModel(): OutlookModel;
  /** May it leave on this trip? Without an id: the next trip. */
  sendoff(trip?: string): Result<SendOff>;
}

/** Opens the desk without its planner. `now` is the day the answers are for. */
export function openOutlookDesk(folded: RigState, given: Catalog, options: LookOptions): OutlookDesk {
  const { catalog, problems: catalogProblems } = ownedCatalog(folded, given);
  const state = soundState(folded, catalog);
  let model: OutlookModel | undefined;
  const outlookModel = (): OutlookModel => {
    model ??= lookAhead(state, catalog, options);
    return model;
  };
  return {
    state,
    catalog,
    catalogProblems,
    now: options.now,
    outlook: () => outlookModel().outlook,
    outlookModel,
    sendoff: (trip) => {
      const { outlook } = outlookModel();
      const asked = trip ?? outlook.trips.find((ahead) => ahead.leave >= options.now)?.trip ?? outlook.trips[0]?.trip;
      if (asked === undefined) {
        return fail({
          code: 'desk.no-trip',
          what: 'No trip is planned',
          expected: 'a trip to judge',
          next: 'Write down the next trip: where, from when to when, how many miles.',
        });
      }
      return sendOff({ state, catalog, outlook, trip: asked, now: options.now });
    },
  };
}
