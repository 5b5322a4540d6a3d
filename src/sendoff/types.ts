/** What a finding makes of the judgement: `nothing` for a pass, a comfort, and what the owner overruled. */
export type Weight = 'hold' | 'limits' | 'nothing';
export type Judgement = 'clear' | 'limits' | 'hold';
export type FindingKind = 'stop' | 'limit' | 'unproven' | 'pass';
export type FindingGroup =
  | 'rig'
  | 'upkeep'
  | 'follow-ups'
  | 'tires'
  | 'loads'
  | 'brakes'
  | 'gas'
  | 'papers'
  | 'kit'
  | 'practice';

/** What would lift a finding. */
export interface Takes {
  /** Imperative: `Inflate the spare to 65 psi`. */
  readonly action: string;
  /** Estimate, its set-ups included. */
  readonly minutes: number;
  /** Set-ups (catalog ids) within these minutes: paid once when several findings share them. */
  readonly setups: readonly string[];
  readonly tools: readonly string[];
  readonly parts: readonly string[];
  /** Whether the tools are aboard; null where none is needed or nothing is known. */
  readonly aboard: boolean | null;
  readonly hands: 'owner' | 'careful owner' | 'licensed' | 'shop';
  /** The entry that writes it down; a form can be opened with it. */
  readonly entry: Proof | null;
}

/** The kind of entry that proves a finding lifted, with what is known of it beforehand. */
export type Proof =
  | { readonly kind: 'work'; readonly upkeep: string; readonly parts: readonly string[] }
  | { readonly kind: 'drill'; readonly upkeep: string; readonly part: string }
  | { readonly kind: 'reading'; readonly part: string; readonly what: string }
  | { readonly kind: 'odometer'; readonly vehicle: 'trailer' | 'tow' }
  | { readonly kind: 'fit'; readonly part: string | null; readonly partKind: string }
  | { readonly kind: 'paper'; readonly part: string }
  | { readonly kind: 'weigh' }
  | { readonly kind: 'carry'; readonly items: readonly string[] }
  | { readonly kind: 'enroll'; readonly vehicle: 'trailer' | 'tow' };

/** One thing found about one trip. */
export interface Finding {
  /** Stable within a trip: `upkeep/repack-bearings@bearings-axle-2-left`, `tires/load@axle-1`: what a waiver names. */
  readonly id: string;
  readonly group: FindingGroup;
  readonly kind: FindingKind;
  readonly severity: 'safety' | 'damage' | 'comfort';
  readonly counts: Weight;
  readonly upkeep: string | null;
  readonly part: string | null;
  /** All parts it speaks of, where one duty covers several (lights, wheel nuts). */
  readonly parts: readonly string[];
  /** What it is about, in few words: the upkeep's title, else what lifts it. */
  readonly title: string;
  /** Where its parts are, those that have a place. */
  readonly places: readonly string[];
  /** One sentence with its numbers. */
  readonly text: string;
  /** What lifts it. Absent for a pass. */
  readonly takes: Takes | null;
  /** For a limit: the number to keep to, carried onto the sheet. */
  readonly keepTo?: string;
  /** For a limit: a thing to do when leaving. */
  readonly onLeaving?: true;
  /** For a limit due on the way: at which mile of this trip. */
  readonly atMiles?: number;
  /** For a limit due on a day: by then. */
  readonly onDay?: string;
  /** Present when the owner overruled it for this trip; the finding then no longer counts. */
  readonly waived?: { readonly by: string; readonly reason: string; readonly entry: string };
  /** A published or handbook way of going with limits, where there is one. */
  readonly goWithLimits?: string;
  readonly cautions: readonly string[];
  /** Ids of entries. */
  readonly evidence: readonly string[];
  /** Ids of the catalog's sources; in words where a calculation names its own. */
  readonly sources: readonly string[];
}

/** May this rig leave on this trip? */
export interface SendOff {
  readonly now: string;
  readonly trip: {
    readonly id: string;
    readonly name: string;
    readonly leave: string;
    readonly return: string;
    readonly miles: string;
  };
  readonly judgement: Judgement;
  /** The sentence on top: `Not yet. Two things stop us, three hours at home.` */
  readonly sentence: string;
  /** Where to begin when nothing stops us but what nobody has looked at; null otherwise. */
  readonly firstStep: string | null;
  /** In the order a person would act on them: stops by minutes to lift, unproven, limits, passes. */
  readonly findings: readonly Finding[];
}
