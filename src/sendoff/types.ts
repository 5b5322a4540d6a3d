export type Judgement = 'clear' | 'limits' | 'hold';
export type FindingKind = 'stop' | 'limit' | 'unproven' | 'pass';

/** What would lift a finding. */
export interface Takes {
  /** Imperative: `Inflate the spare to 65 psi`. */
  readonly action: string;
  readonly minutes: number;
  readonly tools: readonly string[];
  readonly parts: readonly string[];
  /** Whether the tools are aboard; null where none is needed or nothing is known. */
  readonly aboard: boolean | null;
  readonly hands: 'owner' | 'careful owner' | 'licensed' | 'shop';
}

/** One thing found about one trip. */
export interface Finding {
  /** Stable within a trip: `upkeep/repack-bearings@bearings-axle-2-left`, `tires/load@axle-1`: what a waiver names. */
  readonly id: string;
  readonly group: 'upkeep' | 'follow-ups' | 'tires' | 'loads' | 'brakes' | 'gas' | 'papers' | 'kit' | 'practice' | 'rig';
  readonly kind: FindingKind;
  readonly severity: 'safety' | 'damage' | 'comfort';
  readonly upkeep: string | null;
  readonly part: string | null;
  /** One sentence with its numbers. */
  readonly text: string;
  /** Absent for a pass. */
  readonly takes: Takes | null;
  /** For a limit: the number to keep to, carried onto the sheet. */
  readonly keepTo?: string;
  /** For a limit due on the way: at which mile or stop. */
  readonly atMiles?: number;
  /** Present when the owner overruled it for this trip; the finding then no longer counts. */
  readonly waived?: { readonly by: string; readonly reason: string; readonly entry: string };
  /** A published or handbook way of going with limits, where there is one. */
  readonly goWithLimits?: string;
  readonly cautions: readonly string[];
  readonly evidence: readonly string[];
  readonly sources: readonly string[];
}

/** May this rig leave on this trip? */
export interface SendOff {
  readonly now: string;
  readonly trip: { readonly id: string; readonly name: string; readonly leave: string; readonly return: string; readonly miles: string };
  readonly judgement: Judgement;
  /** The sentence on top: `Not yet. Two things stop us, three hours at home.` */
  readonly sentence: string;
  /** In the order a person would act on them: stops by minutes to lift, unproven, limits, passes. */
  readonly findings: readonly Finding[];
}
