import { type Signal, useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { xOf } from '../drawings/season-line.tsx';
import { ask, problemsOf } from '../replica/client.ts';
import type { Questions } from '../replica/protocol.ts';
import type { MovePrice } from '../replica/views/move.ts';
import type { SeasonJob, SeasonView } from '../replica/views/season.ts';
import { say } from '../shell/said.tsx';

/** A job on its way to another day. */
export interface Moving {
  readonly key: string;
  readonly items: readonly string[];
  readonly title: string;
  readonly from: string;
  readonly day: string;
  readonly pinned: boolean;
  /** A day it is kept off, in words. */
  readonly keptOff: string;
  /** Held by a finger or a mouse just now. */
  readonly dragged: boolean;
  readonly prices: SeasonJob['otherDays'];
}

export const moveOf = (job: SeasonJob, day: string, dragged = false): Moving => ({
  ...{
    key: job.key,
    items: job.items,
    from: day,
    day,
    pinned: job.pinned,
    keptOff: job.keptOff,
    dragged,
    prices: job.otherDays,
  },
  title: job.places === '' ? job.title : `${job.title}: ${job.places}`,
});

/** Lets go of the job, and puts whoever works by keyboard back on its handle. */
function leave(moving: Signal<Moving | null>): void {
  const key = moving.peek()?.key;
  moving.value = null;
  const handles = [...document.querySelectorAll<HTMLElement>('.grip')];
  handles.find((handle) => handle.dataset.job === key)?.focus({ preventScroll: true });
}

/** `$18 more`, known at once; the plan made anew may find a way round it. */
export function quickPrice({ prices, from, day }: Moving): string {
  if (day === from) return 'as planned';
  const more = prices[day];
  if (more === undefined || more === null) return 'to be planned anew';
  if (Math.abs(more) < 0.5) return 'costs the same';
  return `$${Math.abs(Math.round(more)).toLocaleString('en-US')} ${more > 0 ? 'more' : 'less'}`;
}

/** What it costs at least to keep the job off the day it is planned for, all else kept. */
function keptOffPrice(now: Moving): string {
  const others = Object.keys(now.prices).filter((day) => day !== now.from && typeof now.prices[day] === 'number');
  const [best] = others.sort((a, b) => now.prices[a]! - now.prices[b]!);
  return best === undefined ? 'no other day holds it as things stand' : quickPrice({ ...now, day: best });
}

const REST_MS = 350;

/** Where the job may go, by menu, by step or by drag, with the price of each choice before it is made. */
export function MovePanel({ view, moving }: { readonly view: SeasonView; readonly moving: Signal<Moving | null> }) {
  const now = moving.value!;
  const price = useSignal<MovePrice | null>(null);
  const wrong = useSignal('');
  const first = useRef<HTMLSelectElement>(null);
  const at = view.slots.findIndex((slot) => slot.date === now.day);
  useEffect(() => {
    if (!now.dragged) first.current?.focus({ preventScroll: true });
  }, [now.key, now.dragged]);
  useEffect(() => {
    price.value = null;
    wrong.value = '';
    if (now.day === now.from || now.dragged) return;
    let current = true;
    // A whole plan is made for it: only for a day on which one rests.
    const rest = setTimeout(() => {
      ask('price', { items: now.items, day: now.day }).then(
        (told) => {
          if (current) price.value = told;
        },
        (error) => {
          if (current) wrong.value = problemsOf(error)[0]!.what;
        },
      );
    }, REST_MS);
    return () => {
      current = false;
      clearTimeout(rest);
    };
  }, [now.key, now.day, now.dragged]);
  const go = (day: string | undefined): void => {
    if (day !== undefined) moving.value = { ...now, day };
  };
  const keep = async (pin: Questions['pin']['ask']['pin'], said: string): Promise<void> => {
    try {
      const { ids } = await ask('pin', { items: now.items, pin });
      say(`${said}: ${now.title}`, ids);
      leave(moving);
    } catch (error) {
      wrong.value = problemsOf(error)[0]!.what;
    }
  };
  const slot = view.slots[at];
  const fromText = view.slots.find(({ date }) => date === now.from)?.text ?? now.from;
  const quick = slot ? `${slot.text}: ${quickPrice(now)}` : quickPrice(now);
  const text =
    now.day === now.from
      ? `It is planned here. Choose another day to hear its price, or keep it off this one: ${keptOffPrice(now)}.`
      : (price.value?.text ?? `${quick}${now.dragged ? '' : ', all else kept. Planning anew …'}`);
  return (
    <section
      class={now.dragged ? 'move-panel dragged' : 'move-panel'}
      aria-label={`Move ${now.title}`}
      onKeyDown={(event) => {
        if (event.key === 'Escape') leave(moving);
      }}
    >
      <h3>{now.title}</h3>
      <div class="row when-still">
        <button type="button" class="quiet" disabled={at <= 0} onClick={() => go(view.slots[at - 1]?.date)}>
          Earlier
        </button>
        <label class="grow">
          <span class="sr">Day</span>
          <select ref={first} value={now.day} onChange={(event) => go(event.currentTarget.value)}>
            {view.slots.map((one) => (
              <option key={one.date} value={one.date} selected={one.date === now.day}>
                {one.text}, {quickPrice({ ...now, day: one.date })}
              </option>
            ))}
          </select>
        </label>
        <button
          type="button"
          class="quiet"
          disabled={at === view.slots.length - 1}
          onClick={() => go(view.slots[at + 1]?.date)}
        >
          Later
        </button>
      </div>
      <p class="price" aria-live="polite">
        {wrong.value || text}
      </p>
      <div class="row wrap when-still">
        <button
          type="button"
          class="writes"
          disabled={now.day === now.from}
          onClick={() => keep({ day: now.day, how: 'on' }, 'Moved')}
        >
          Put it there
        </button>
        {now.day === now.from && (
          <button
            type="button"
            class="quiet writes"
            onClick={() => keep({ day: now.from, how: 'not on' }, `Kept off ${fromText}`)}
          >
            Not on this day
          </button>
        )}
        {(now.pinned || now.keptOff !== '') && (
          <button type="button" class="quiet writes" onClick={() => keep(null, 'Left to the plan')}>
            Leave it to the plan
          </button>
        )}
        <button type="button" class="quiet" onClick={() => leave(moving)}>
          Leave it where it is
        </button>
      </div>
    </section>
  );
}

/** So far a finger or a mouse moves before it drags. */
const DRAG_PX = 8;

/**
 * Dragging a job's handle over the line puts it on the nearest free day, with the price of that day at once; let go, it waits there for a
 * yes. Escape, or a touch that the system takes over, leaves all as it was.
 */
export function dragJob(
  event: PointerEvent,
  job: SeasonJob,
  day: string,
  view: SeasonView,
  moving: Signal<Moving | null>,
): void {
  const handle = event.currentTarget as HTMLElement;
  const start = { x: event.clientX, y: event.clientY };
  const watch = new AbortController();
  let dragged = false;
  delete handle.dataset.dragged;
  handle.setPointerCapture(event.pointerId);
  const move = (at: PointerEvent): void => {
    if (!dragged && Math.hypot(at.clientX - start.x, at.clientY - start.y) < DRAG_PX) return;
    if (!dragged) moving.value = moveOf(job, day, true);
    dragged = true;
    handle.dataset.dragged = '';
    at.preventDefault();
    const line = document.querySelector('[data-line] svg')?.getBoundingClientRect();
    if (!line) return;
    // Off the line, the job is where it was.
    const over = at.clientY > line.top - REACH_PX && at.clientY < line.bottom + REACH_PX;
    const nearest = over ? nearestSlot(view, at.clientX - line.left, line.width) : day;
    if (nearest !== undefined && nearest !== moving.value?.day)
      moving.value = { ...moveOf(job, day, true), day: nearest };
  };
  const end = (): void => {
    watch.abort();
    // A tap is told by its click: shown any sooner, what comes up under the finger would take it.
    if (!dragged) return;
    if (moving.value?.day === day) leave(moving);
    else if (moving.value) moving.value = { ...moving.value, dragged: false };
  };
  const cancel = (): void => {
    watch.abort();
    if (!dragged) return;
    leave(moving);
    say(`Left where it is: ${job.title}`);
  };
  const options = { signal: watch.signal };
  handle.addEventListener('pointermove', move, options);
  handle.addEventListener('pointerup', end, options);
  handle.addEventListener('pointercancel', cancel, options);
  document.addEventListener(
    'keydown',
    (key) => {
      if (key.key === 'Escape') cancel();
    },
    options,
  );
}

/** So far above and below the line a drag still counts as over it. */
const REACH_PX = 70;

function nearestSlot(view: SeasonView, x: number, width: number): string | undefined {
  const off = (date: string): number => Math.abs(xOf({ from: view.from, to: view.to, width }, date) - x);
  return view.slots
    .map((slot) => slot.date)
    .filter((date) => date <= view.to)
    .sort((a, b) => off(a) - off(b))[0];
}
