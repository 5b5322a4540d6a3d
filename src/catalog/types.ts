import type { Quantity } from '../quantity/index.ts';
import type { HAZARDS } from './hazard-names.ts';

/** What kind of authority a source is. Nothing else is accepted. */
export type SourceKind = 'regulation' | 'standard' | 'handbook' | 'common practice';

/** Where a figure comes from. */
export interface Source {
  readonly id: string;
  readonly kind: SourceKind;
  /** Title and place, as a person would look it up: `49 CFR 180.209(e)`. */
  readonly title: string;
  readonly edition?: string;
  /** `read`: seen in the named document; `memory`: written down from memory, to be verified. */
  readonly seen: 'read' | 'memory';
  readonly note?: string;
  /** True for what the owner gave in the logbook: their handbook, their habit. Shown as theirs. */
  readonly owner?: boolean;
}

/** What can hurt somebody at a job: an id of `hazards` in `catalog/hazards.yaml`. */
export type Hazard = (typeof HAZARDS)[number];

/** A hazard with the caution that stands for it once. */
export interface HazardCaution {
  readonly id: Hazard;
  readonly caution: string;
  /** Words by which a caution of an upkeep's own is known to speak of it. */
  readonly speaks: readonly string[];
}

/** A figure that steps or cautions rely on, with where it comes from. `is`, or `from` and `to` where sources give a band. */
export interface Figure {
  readonly what: string;
  readonly is?: Quantity;
  readonly from?: Quantity;
  readonly to?: Quantity;
  readonly source: string;
  readonly note?: string;
}

/** A fact of the rig that makers contradict each other about, so that only its own handbook (or label) can give it. The owner
 *  enters it as the setting `fact/ID`. Missing means unknown; there is no default to fall back on. */
export interface RigFact {
  readonly id: string;
  readonly title: string;
  /** Where to look it up. */
  readonly ask: string;
  /** Unit of a measured fact; absent for words. */
  readonly unit?: string;
  /** What goes wrong when it is guessed. */
  readonly why: string;
  /** What the published sources say, side by side. */
  readonly disagree: readonly { readonly says: string; readonly source: string }[];
}

/** A limit that several rooms share. It stands once, in `catalog/limits.json`; texts of the catalog name it as `{id}`. */
export interface Limit {
  readonly id: string;
  readonly is: Quantity;
  /** As its source writes it (`2/32 in`), for texts. */
  readonly text: string;
  /** Which side of it is the safe one; `about` where it is no bound but a usual value. */
  readonly bound: 'at least' | 'at most' | 'about';
  /** What it limits: `tread at which a tire comes off`. */
  readonly what: string;
  readonly source: string;
  /** Sources that say otherwise. */
  readonly also?: readonly { readonly says: string; readonly source: string }[];
  readonly note?: string;
}

/** What a reading (`reading/NAME`), a fact of a kind of part (`fact/KIND.FACT`) or of the rig (`rig-fact/ID`) can plausibly be. What lies
 *  outside is a slip of the pen and refused; a sound value may still be far from good. */
export interface PlausibleRange {
  readonly id: string;
  readonly least: Quantity;
  readonly most: Quantity;
  /** A usual value, for messages. */
  readonly such: Quantity;
  readonly source: string;
}

export type Severity = 'safety' | 'damage' | 'comfort';
export type Skill = 'owner' | 'careful owner' | 'licensed';
/** Which of the two vehicles a part sits on, and whose odometer its miles are counted by. */
export type VehicleRole = 'trailer' | 'tow';

/** A kind of thing that wears, ages or can fail. */
export interface PartKind {
  readonly id: string;
  readonly name: string;
  /** Chapter of the reference: `running gear`, `LP gas` … */
  readonly group: string;
  readonly vehicle: VehicleRole;
  /** How many a usual rig has: one a rig, one an axle, one a wheel, or as many as there are. */
  readonly per: 'rig' | 'axle' | 'wheel' | 'each';
  /** What to look for and write down on the first day, in the order of a walk-round. */
  readonly identify: readonly string[];
  /** Facts a fitted part may carry (`pressureColdMin`), and what each means. */
  readonly facts: Readonly<Record<string, string>>;
  /** Unit of each fact that is a measured value. */
  readonly factUnits?: Readonly<Record<string, string>>;
  /** Dangers of work on it, for upkeeps that do not name their own. */
  readonly hazards?: readonly Hazard[];
  /** `true`: every usual rig has one. A word: every usual rig has one of the kinds that share this word (`hubs`), never all. Absent:
   *  many rigs have none. A logbook without an expected part proves nothing about it. */
  readonly expected?: true | string;
  /** Which code is moulded or stamped on it, if one says when it was made. */
  readonly code?: 'tire' | 'cylinder';
}

interface Sourced {
  readonly source: string;
  /** Where sources disagree: smallest and largest figure found, in the clock's own unit. */
  readonly range?: readonly [number, number];
  readonly note?: string;
}

/** One way an upkeep runs out. Figures are defaults; the owner's handbook, entered in the logbook, outranks them. */
export type Clock = Sourced &
  (
    | { readonly kind: 'miles'; readonly every: Quantity }
    | { readonly kind: 'months'; readonly every: number }
    | { readonly kind: 'nights'; readonly every: number }
    | { readonly kind: 'hours'; readonly every: number; readonly counter: string }
    /** Months since it was made (or fitted): worth renewing `from`, must be renewed `by`. A date on the label, where read, governs;
     *  with `label: required` nothing else counts. */
    | {
        readonly kind: 'age';
        readonly from?: number;
        readonly by?: number;
        readonly countedFrom: 'made' | 'fitted';
        readonly label: 'governs' | 'required';
        /** Of parts whose size is of another kind, where that has ages of its own. Ask `agesOf`. */
        readonly sizes?: { readonly LT: { readonly from: number; readonly by: number; readonly source: string } };
      }
    /** Before the first trip after 1 January, or before the first freeze of autumn. */
    | { readonly kind: 'season'; readonly before: 'first trip' | 'first freeze' }
    /** Before every departure; a proof is good for `withinDays` before leaving. */
    | { readonly kind: 'departure'; readonly withinDays: number }
    /** Born of other work: at these miles after any work that used one of the set-ups, or did one of the upkeeps; with `fitted`
     *  after a new part was fitted, too. */
    | {
        readonly kind: 'after';
        readonly setups: readonly string[];
        readonly upkeeps: readonly string[];
        readonly fitted?: true;
        readonly atMiles: readonly Quantity[];
        readonly atDays: readonly number[];
      }
    /** A measured quantity drifting past a limit since the last restoring work. The limit is a figure or a fact of the part;
     *  `reading` is one of the upkeep's readings. */
    | {
        readonly kind: 'limit';
        readonly reading: string;
        readonly side: 'below' | 'above';
        readonly limit?: Quantity;
        readonly limitFact?: string;
        /** Prior drift a month (signed) and its spread, in the limit's unit. */
        readonly driftPerMonth: number;
        readonly driftSpread: number;
        /** Standard deviation of one reading, in the limit's unit. */
        readonly readingError: number;
        /** A reading older than this proves nothing on a departure. */
        readonly staleDays: number;
      }
  );

export type ClockKind = Clock['kind'];

/** Shared preparation, paid once a yard day. */
export interface SetUp {
  readonly id: string;
  readonly title: string;
  /** Estimate, for one practised owner: once a yard day. */
  readonly minutes: number;
  /** Estimate, on top for each wheel it is made at (jacked, off, open). */
  readonly minutesEach?: number;
  /** Kit item ids. */
  readonly tools: readonly string[];
  readonly steps: readonly string[];
  readonly cautions: readonly string[];
  /** Set-ups that must stand before this one; an upkeep lists them all. */
  readonly presumes?: readonly string[];
  /** Rig facts this work cannot do without. */
  readonly needsFacts?: readonly string[];
  readonly hazards?: readonly Hazard[];
  readonly figures?: readonly Figure[];
}

/** What is used up: `{ what: 'wheel bearing grease, NLGI 2', quantity: '1/4 lb', leadDays: 5, cost: 6 }`, per part served. */
export interface Consumable {
  readonly what: string;
  readonly quantity: string;
  /** Days to get it here, an estimate. */
  readonly leadDays: number;
  /** Money a part served, an estimate, in the owner's currency. */
  readonly cost: number;
}

/** A duty a kind of part brings with it. */
export interface Upkeep {
  readonly id: string;
  /** Imperative: `Repack the wheel bearings`. */
  readonly title: string;
  /** Kind of part. */
  readonly part: string;
  /** One sentence. */
  readonly why: string;
  readonly severity: Severity;
  readonly clocks: readonly Clock[];
  /** `restores: true` puts the part back to new for this upkeep's limits (repack, inflate); false only proves it (inspect, test). */
  readonly restores: boolean;
  /** Other upkeeps of the same part that this one also does when done (renewing does the test, too). */
  readonly covers: readonly string[];
  /** Set-ups needed. */
  readonly setups: readonly string[];
  /** Upkeeps to be done before this one when both fall on one day. */
  readonly goesAfter: readonly string[];
  /** Estimate, a part served, set-ups not counted. */
  readonly minutes: number;
  readonly skill: Skill;
  /** Where it can be done: at home only, or also at a stop on the way. */
  readonly place: 'home' | 'anywhere' | 'shop';
  /** What failure costs (estimate, money, tow and repair) and how steeply its chance rises past the interval (rho of the plan). */
  readonly failure: { readonly cost: number; readonly steepness: number; readonly consequence: string };
  /** Kit item ids; their names carry the sizes. */
  readonly tools: readonly string[];
  readonly consumables: readonly Consumable[];
  readonly steps: readonly string[];
  readonly cautions: readonly string[];
  /** Readings to take while at it, each with its unit and, where there is one, its limit. `what` is the reading's name in the logbook (`pressure-cold`). */
  readonly readings: readonly {
    readonly what: string;
    readonly unit: string;
    readonly limit?: string;
    /** Below it, above it, or below another reading of the same work, the part has failed, whatever was ticked. */
    readonly least?: Quantity;
    readonly most?: Quantity;
    readonly notUnder?: string;
    readonly source?: string;
  }[];
  /** What to look at when nothing is on record: `Read the date on the back of the alarm.` */
  readonly look: string;
  /** Place in the spring opening and the autumn lay-up, if it has one. */
  readonly seasonOrder?: { readonly spring?: number; readonly autumn?: number };
  /** Set where it wants weather without frost: water stands in the lines, or what is put on will not cure. */
  readonly frostFree?: true;
  /** Published or handbook way of going with limits when this upkeep has run out or failed; absent: none is known. */
  readonly goWithLimits?: { readonly text: string; readonly source: string };
  /** A duty of practice (cranking the jack by hand), kept in the same way. */
  readonly drill?: boolean;
  /** Set where the owner changed it or made it: their source, and which fields are theirs. */
  readonly owner?: { readonly source: string; readonly changed: readonly string[] };
  /** Dangers of the work itself, those of its set-ups not repeated; empty: none. Absent (an owner's own upkeep): those of its part. */
  readonly hazards?: readonly Hazard[];
  readonly needsFacts?: readonly string[];
  /** The figures named in steps and cautions. */
  readonly figures?: readonly Figure[];
  /** Sources of rules that are no figure (what may not be filled, towed, opened). */
  readonly restsOn?: readonly string[];
}

/** The trade's knowledge, loaded and cross-checked. */
export interface Catalog {
  readonly sources: ReadonlyMap<string, Source>;
  readonly partKinds: ReadonlyMap<string, PartKind>;
  readonly setups: ReadonlyMap<string, SetUp>;
  readonly upkeeps: ReadonlyMap<string, Upkeep>;
  /** Upkeeps by kind of part, in catalog order. */
  readonly upkeepsOf: ReadonlyMap<string, readonly Upkeep[]>;
  readonly mishaps: ReadonlyMap<string, Mishap>;
  readonly kit: ReadonlyMap<string, KitItem>;
  readonly rigFacts?: ReadonlyMap<string, RigFact>;
  /** By id. Ask `rangeOfReading`, `rangeOfFact`, `rangeOfRigFact`. */
  readonly ranges?: ReadonlyMap<string, PlausibleRange>;
  readonly limits: ReadonlyMap<string, Limit>;
  readonly hazards: ReadonlyMap<Hazard, HazardCaution>;
  /** Upkeeps as the owner changed them for one part: part id (of the logbook), then upkeep id. Ask `upkeepOfPart`. */
  readonly partUpkeeps?: ReadonlyMap<string, ReadonlyMap<string, Upkeep>>;
}

/** Something that goes wrong away from home. */
export interface Mishap {
  readonly id: string;
  readonly title: string;
  /** Kinds of part that can bring it on; a rig without any of them cannot have it. */
  readonly parts: readonly string[];
  readonly signs: readonly string[];
  readonly firstMinute: readonly string[];
  readonly steps: readonly string[];
  /** Kit item ids. All are needed, but each may be served by one of its `alternatives`. */
  readonly tools: readonly string[];
  readonly spares: readonly string[];
  /** For a tool or spare above: other items that do as well here. */
  readonly alternatives?: Readonly<Record<string, readonly string[]>>;
  readonly doNotTowIf: readonly string[];
  readonly call: readonly string[];
  readonly cautions: readonly string[];
  readonly drill?: string;
  readonly preventedBy: readonly string[];
  readonly source: string;
  readonly hazards?: readonly Hazard[];
  readonly needsFacts?: readonly string[];
  readonly figures?: readonly Figure[];
}

/** A tool or spare as a kind. */
export interface KitItem {
  readonly id: string;
  readonly name: string;
  readonly kind: 'tool' | 'spare';
  readonly note?: string;
  /** Estimates, for the smallest kit that covers a set of mishaps. */
  readonly weightLb: number;
  readonly cost: number;
}
