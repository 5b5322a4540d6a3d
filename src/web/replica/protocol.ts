import type { Draft, Setting } from '../../logbook/index.ts';
import type { Problem } from '../../problem/index.ts';
import type { Frame } from './frame.ts';
import type { Decoded } from './views/decode.ts';
import type { FormAsk, FormSpec } from './views/form.ts';
import type { Field } from './views/form-fields.ts';
import type { GoView } from './views/go.ts';
import type { GroundsAsk, GroundsView } from './views/grounds.ts';
import type { HandbookView } from './views/handbook.ts';
import type { AsideView, EntryView, LogbookPage, LogbookQuery } from './views/logbook.ts';
import type { MarginsView } from './views/margins.ts';
import type { MovePrice } from './views/move.ts';
import type { OutboxView } from './views/outbox.ts';
import type { CalculationAnswer, CalculationForm, CalculationLine } from './views/reckon.ts';
import type { PartView, RigView } from './views/rig.ts';
import type { MishapView, RoadsideView } from './views/roadside.ts';
import type { RoundView } from './views/round.ts';
import type { RouteView } from './views/route.ts';
import type { ScaleView } from './views/scale.ts';
import type { SeasonView } from './views/season.ts';
import type { SettingsView } from './views/settings.ts';
import type { SheetAsk, SheetView } from './views/sheet.ts';
import type { TableAsk, TableView } from './views/table.ts';
import type { WalkView } from './views/walk.ts';

/** What a sentence or a form would write: said back before it is written. */
export interface Proposal {
  readonly drafts: readonly Draft[];
  readonly said: string;
  readonly problems: readonly Problem[];
  /** What may be meant all the same: said once more before it is written. */
  readonly notes?: readonly string[];
}

export interface Written {
  readonly ids: readonly string[];
  readonly said: string;
}

/** The questions the pages may ask the worker, by name: what is asked with, and what is answered. */
export interface Questions {
  go: { ask: { trip: string | null }; answer: GoView };
  /** Evidence and sources of one statement, when it is opened. */
  grounds: { ask: GroundsAsk; answer: GroundsView };
  /** What of the weighing stands beside the judgement. */
  margins: { ask: Record<string, never>; answer: MarginsView };
  round: { ask: { trip: string | null }; answer: RoundView };
  season: { ask: Record<string, never>; answer: SeasonView };
  price: { ask: { items: readonly string[]; day: string }; answer: MovePrice };
  /** Puts jobs on a day, keeps them off it, or leaves them to the plan again. */
  pin: { ask: { items: readonly string[]; pin: Setting<'pin'> | null }; answer: Written };
  rig: { ask: Record<string, never>; answer: RigView };
  part: { ask: { part: string }; answer: PartView | null };
  logbook: { ask: LogbookQuery & { from: number; count: number }; answer: LogbookPage };
  entry: { ask: { id: string }; answer: EntryView | null };
  /** What was set aside, asked anew whenever so many are. */
  aside: { ask: { aside: number; unread: number }; answer: AsideView };
  /** The owner lets an entry that was set aside count, rejects it, or takes the decision back (null). */
  decide: { ask: { id: string; decision: 'release' | 'reject' | null }; answer: Written };
  photo: { ask: { hash: string }; answer: Blob | null };
  scale: { ask: Record<string, never>; answer: ScaleView };
  setNow: { ask: { air: string }; answer: readonly (readonly [place: string, pressure: string])[] };
  roadside: { ask: Record<string, never>; answer: RoadsideView };
  mishap: { ask: { mishap: string }; answer: MishapView | null };
  settings: { ask: Record<string, never>; answer: SettingsView };
  handbook: { ask: Record<string, never>; answer: HandbookView };
  set: { ask: { key: string; value: unknown }; answer: Written };
  walk: { ask: Record<string, never>; answer: WalkView };
  decode: { ask: { kind: string; code: string }; answer: Decoded };
  calculations: { ask: Record<string, never>; answer: readonly CalculationLine[] };
  calculation: { ask: { id: string }; answer: CalculationForm | null };
  reckon: {
    ask: { id: string; fields: readonly Field[]; values: Readonly<Record<string, string>> };
    answer: CalculationAnswer;
  };
  sheet: { ask: SheetAsk; answer: SheetView };
  form: { ask: FormAsk; answer: FormSpec };
  understand: { ask: { text: string }; answer: Proposal };
  fill: { ask: { spec: FormSpec; on: string; values: Readonly<Record<string, string>> }; answer: Proposal };
  check: { ask: { drafts: readonly unknown[] }; answer: Proposal };
  write: { ask: { drafts: readonly Draft[]; photos?: readonly Blob[] }; answer: Written };
  strike: { ask: { ids: readonly string[]; reason: string }; answer: Written };
  sync: { ask: Record<string, never>; answer: null };
  /** Is there news? Asked now and then, and when somebody looks again (`anew`). */
  look: { ask: { anew: boolean }; answer: null };
  openRig: { ask: { rig: string }; answer: null };
  startRig: { ask: { name: string }; answer: { rig: string } };
  importText: {
    ask: { text: string; demo: boolean };
    answer: { rig: string; added: number } | { problems: readonly Problem[] };
  };
  route: { ask: { text: string }; answer: RouteView };
  table: { ask: TableAsk; answer: TableView };
  writeTable: { ask: TableAsk; answer: { ids: readonly string[] } };
  exportCsv: { ask: Record<string, never>; answer: string };
  exportText: { ask: Record<string, never>; answer: string };
  /** Asked anew whenever so many wait or were refused. */
  outbox: { ask: { waiting: number; refused: number }; answer: OutboxView };
  exportWaiting: { ask: Record<string, never>; answer: string };
  signAs: { ask: { name: string }; answer: null };
}

export type Question = keyof Questions;

export interface Asked<Q extends Question = Question> {
  readonly id: number;
  readonly question: Q;
  readonly ask: Questions[Q]['ask'];
  /** What the page has been told of: whoever answers must know as much. */
  readonly of: {
    readonly rig: string | null;
    readonly entries: number;
    readonly unread: number;
    readonly today: string;
  };
}

/** What the worker sends: its greeting of news, or an answer. */
export type Told =
  | { readonly tell: 'frame'; readonly frame: Frame }
  | { readonly tell: 'answer'; readonly id: number; readonly answer: unknown }
  | { readonly tell: 'failed'; readonly id: number; readonly problems: readonly Problem[] };
