import { type Signal, useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { xOf } from '../drawings/season-line.tsx';
import { ask, problemsOf } from '../replica/client.ts';
import type { MovePrice } from '../replica/views/move.ts';
import type { SeasonJob, SeasonView } from '../replica/views/season.ts';
import { say } from '../shell/said.tsx';

/** A job on its way to another day. */
export interface Moving {
  readonly items: readonly string[];
  readonly title: string;
  readonly from: string;
  readonly day: string;
  readonly pinned: boolean;
}

export const moveOf = (job: SeasonJob, day: string): Moving => ({
  items: job.items,
  title: job.places === '' ? job.title : `${job.title}: ${job.places}`,
  from: day,
  day,
  pinned: job.pinned,
});

/** Where the job may go, by menu, by step or by drag, with the price of each choice before it is made. */
export function MovePanel({ view, moving }: { readonly view: SeasonView; readonly moving: Signal<Moving | null> }) {
  const now = moving.value!;
  const price = useSignal<MovePrice | null>(null);
  const wrong = useSignal('');
  const first = useRef<HTMLSelectElement>(null);
  const at = view.slots.findIndex((slot) => slot.date === now.day);
  useEffect(() => first.current?.focus({ preventScroll: true }), [now.items.join()]);
  useEffect(() => {
    let current = true;
    price.value = null;
    if (now.day === now.from) return;
    ask('price', { items: now.items, day: now.day }).then(
      (told) => {
        if (current) price.value = told;
      },
      (error) => {
        if (current) wrong.value = problemsOf(error)[0]!.what;
      },
    );
    return () => {
      current = false;
    };
  }, [now.items.join(), now.day]);
  const go = (day: string | undefined): void => {
    if (day !== undefined) moving.value = { ...now, day };
  };
  const keep = async (day: string | null): Promise<void> => {
    try {
      const { ids } = await ask('pin', { items: now.items, day });
      say(day === null ? `Left to the plan: ${now.title}` : `Moved: ${now.title}`, ids);
      moving.value = null;
    } catch (error) {
      wrong.value = problemsOf(error)[0]!.what;
    }
  };
  return (
    <section
      class="move-panel"
      aria-label={`Move ${now.title}`}
      onKeyDown={(event) => {
        if (event.key === 'Escape') moving.value = null;
      }}
    >
      <h3>{now.title}</h3>
      <div class="row">
        <button type="button" class="quiet" disabled={at <= 0} onClick={() => go(view.slots[at - 1]?.date)}>
          Earlier
        </button>
        <label class="grow">
          <span class="sr">Day</span>
          <select ref={first} value={now.day} onChange={(event) => go(event.currentTarget.value)}>
            {view.slots.map((slot) => (
              <option key={slot.date} value={slot.date} selected={slot.date === now.day}>
                {slot.text}
                {slot.date === now.from ? ' (as planned)' : ''}
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
        {wrong.value ||
          (now.day === now.from
            ? 'It is planned here. Choose another day to hear its price.'
            : (price.value?.text ?? 'Planning anew …'))}
      </p>
      <div class="row wrap">
        <button
          type="button"
          class="writes"
          disabled={now.day === now.from || price.value === null}
          onClick={() => keep(now.day)}
        >
          Put it there
        </button>
        {now.pinned && (
          <button type="button" class="quiet writes" onClick={() => keep(null)}>
            Leave it to the plan
          </button>
        )}
        <button type="button" class="quiet" onClick={() => (moving.value = null)}>
          Leave it where it is
        </button>
      </div>
    </section>
  );
}

/** Dragging a job's handle over the line puts it on the nearest free day; letting go elsewhere leaves the choice open. */
export function dragJob(
  event: PointerEvent,
  job: SeasonJob,
  day: string,
  view: SeasonView,
  moving: Signal<Moving | null>,
): void {
  const handle = event.currentTarget as HTMLElement;
  const start = { x: event.clientX, y: event.clientY };
  let dragged = false;
  handle.setPointerCapture(event.pointerId);
  const move = (at: PointerEvent): void => {
    if (!dragged && Math.hypot(at.clientX - start.x, at.clientY - start.y) < 8) return;
    if (!dragged) moving.value = moveOf(job, day);
    dragged = true;
    at.preventDefault();
    const line = document.querySelector('[data-line] svg')?.getBoundingClientRect();
    if (!line || at.clientY > line.bottom + 60) return;
    const nearest = nearestSlot(view, at.clientX - line.left, line.width);
    if (nearest !== undefined && nearest !== moving.value?.day) moving.value = { ...moveOf(job, day), day: nearest };
  };
  const end = (): void => {
    handle.removeEventListener('pointermove', move);
    if (!dragged) moving.value = moveOf(job, day);
  };
  handle.addEventListener('pointermove', move);
  handle.addEventListener('pointerup', end, { once: true });
  handle.addEventListener('pointercancel', () => handle.removeEventListener('pointermove', move), { once: true });
}

function nearestSlot(view: SeasonView, x: number, width: number): string | undefined {
  const off = (date: string): number => Math.abs(xOf({ from: view.from, to: view.to, width }, date) - x);
  return view.slots
    .map((slot) => slot.date)
    .filter((date) => date <= view.to)
    .sort((a, b) => off(a) - off(b))[0];
}
