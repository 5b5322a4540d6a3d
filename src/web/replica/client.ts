/** The page's end of the line to the worker: the head of every page as a signal, and questions asked by name. */
import { effect, signal, useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { type Problem, ProblemError } from '../../problem/index.ts';
import type { Frame } from './frame.ts';
import type { Question, Questions, Told } from './protocol.ts';
import { shareLink } from './share-link.ts';

export const frame = signal<Frame | null>(null);

const waiting = new Map<number, { resolve: (answer: never) => void; reject: (error: unknown) => void }>();
let asked = 0;

function begin(role: 'main' | 'planner'): Worker {
  const settings = new URLSearchParams({ role });
  const now = new URL(location.href).searchParams.get('now');
  if (now !== null) settings.set('now', now);
  const link = shareLink();
  if (link !== null) settings.set('link', link);
  const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module', name: `rigworthy?${settings}` });
  worker.onmessage = ({ data }: MessageEvent<Told>) => {
    if (data.tell === 'frame') {
      if (data.frame.stage === 'ended') kept.clear();
      // The worker says how it stands after every exchange: most say what was said before, and nothing is drawn anew.
      if (JSON.stringify(data.frame) !== JSON.stringify(frame.peek())) frame.value = data.frame;
      return;
    }
    const one = waiting.get(data.id);
    waiting.delete(data.id);
    const settle = (): void => {
      if (data.tell === 'answer') one?.resolve(data.answer as never);
      else one?.reject(new ProblemError(data.problems));
    };
    // A large season takes long to take over and long to draw: each in a task of its own, with room for a frame between.
    if (role === 'planner') setTimeout(settle);
    else settle();
  };
  return worker;
}

const main = begin('main');
let planner: Worker | undefined;
/** Questions that take long: a worker of their own answers them, begun when first needed. */
const LONG: ReadonlySet<Question> = new Set<Question>(['season', 'price', 'sheet']);

/** Asks the worker. Rejects with `ProblemError`. */
export function ask<Q extends Question>(question: Q, about: Questions[Q]['ask']): Promise<Questions[Q]['answer']> {
  asked += 1;
  const id = asked;
  const now = frame.peek();
  const of = {
    rig: now?.rig ?? null,
    entries: now?.entries ?? 0,
    unread: now?.unread ?? 0,
    today: now?.today ?? '',
  };
  const long = LONG.has(question) && shareLink() === null;
  if (long) planner ??= begin('planner');
  const worker = long ? planner! : main;
  return new Promise((resolve, reject) => {
    waiting.set(id, { resolve, reject });
    worker.postMessage({ id, question, ask: about, of });
  });
}

export interface Answered<T> {
  readonly answer: T | null;
  readonly problems: readonly Problem[];
  /** A newer answer is being worked out; what is shown is the one before. */
  readonly working: boolean;
}

/** The newest answer to each question, with the version of the replica that it is of; the last so many that were asked. */
const kept = new Map<string, { readonly version: number; readonly answer: unknown }>();
const KEPT = 60;

function keep(key: string, version: number, answer: unknown): void {
  kept.delete(key);
  kept.set(key, { version, answer });
  if (kept.size > KEPT) kept.delete(kept.keys().next().value!);
}

/** Asks, and asks again whenever anything in the replica changes; the answer before stays until the new one is there. */
export function useAnswer<Q extends Question>(
  question: Q,
  about: Questions[Q]['ask'],
): Answered<Questions[Q]['answer']> {
  const key = JSON.stringify([question, about]);
  const before = kept.get(key)?.answer as Questions[Q]['answer'] | undefined;
  const told = useSignal<Answered<Questions[Q]['answer']>>({ answer: before ?? null, problems: [], working: true });
  useEffect(() => {
    let current = true;
    let version = -1;
    const stop = effect(() => {
      const now = frame.value;
      if (now === null || now.stage !== 'open' || now.version === version) return;
      version = now.version;
      const mine = now.version;
      const have = kept.get(key);
      if (have?.version === mine) {
        told.value = { answer: have.answer as Questions[Q]['answer'], problems: [], working: false };
        return;
      }
      told.value = { ...told.peek(), working: true };
      ask(question, (JSON.parse(key) as [Q, Questions[Q]['ask']])[1]).then(
        (answer) => {
          keep(key, mine, answer);
          if (current && mine === version) told.value = { answer, problems: [], working: false };
        },
        (error) => {
          if (current && mine === version) told.value = { answer: null, problems: problemsOf(error), working: false };
        },
      );
    });
    return () => {
      current = false;
      stop();
    };
  }, [key]);
  return told.value;
}

export function problemsOf(error: unknown): readonly Problem[] {
  if (error instanceof ProblemError) return error.problems;
  return [{ code: 'web.unexpected', what: error instanceof Error ? error.message : String(error) }];
}

/** Asks for news while the page is looked at: the server tells by itself, as long as its channel stands. */
const EXCHANGE_MS = 15_000;
const exchange = (anew: boolean): void => {
  if (document.visibilityState === 'visible') void ask('look', { anew }).catch(() => undefined);
};
setInterval(() => exchange(false), EXCHANGE_MS);
addEventListener('online', () => exchange(true));
document.addEventListener('visibilitychange', () => exchange(true));
