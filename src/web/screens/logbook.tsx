import { type Signal, signal, useSignal } from '@preact/signals';
import { useEffect, useMemo, useRef } from 'preact/hooks';
import './logbook.css';
import { ask, frame, useAnswer } from '../replica/client.ts';
import type { EntryLine } from '../replica/views/entry-text.ts';
import type { LogbookPage } from '../replica/views/logbook.ts';
import { FindWords } from '../shell/find-words.tsx';
import { openForm } from '../shell/form.ts';
import { unreadText } from '../shell/head.tsx';
import { NotYet } from '../shell/problems.tsx';
import { linkTo, route } from '../shell/route.ts';
import { SheetLink } from '../shell/sheet-link.tsx';
import { Title } from '../shell/title.tsx';
import { comeBackTo } from '../shell/visits.ts';
import { Aside } from './aside.tsx';
import { Entry } from './entry.tsx';

const KINDS: readonly (readonly [kind: string, name: string])[] = [
  ['', 'Everything'],
  ['work', 'Work'],
  ['reading', 'Readings'],
  ['trip', 'Trips planned'],
  ['trip-done', 'Trips finished'],
  ['weigh', 'Weighings'],
  ['fit', 'Parts fitted'],
  ['remove', 'Parts taken off'],
  ['carry', 'Kit aboard'],
  ['drill', 'Practice'],
  ['paper', 'Papers'],
  ['set', 'Own figures'],
  ['adjust', 'Odometers replaced'],
  ['waive', 'Overruled'],
  ['strike', 'Struck'],
  ['enroll', 'Vehicles'],
];

/** The logbook: every line there is, newest first; found by words and by kind. */
export function Logbook() {
  const [id] = route.value.rest;
  if (id === 'aside') return <Aside />;
  return id === undefined ? <Lines /> : <Entry id={id} />;
}

/** What is looked for stays while a line is opened and left again. */
const words = signal('');
const kind = signal('');

function Lines() {
  useMemo(() => {
    if (!comeBackTo()) words.value = kind.value = '';
  }, []);
  return (
    <>
      <Title>Logbook</Title>
      <div class="logbook-find">
        <FindWords words={words} example="spare, bearings, 2024" />
        <label>
          <span class="sr">Kind of entry</span>
          <select value={kind.value} onChange={(event) => (kind.value = event.currentTarget.value)}>
            {KINDS.map(([value, name]) => (
              <option key={value} value={value}>
                {name}
              </option>
            ))}
          </select>
        </label>
        <button type="button" class="quiet writes" onClick={() => openForm({ choose: true })}>
          Fill in a form
        </button>
      </div>
      <AsideLink />
      <Found words={words.value} kind={kind.value} />
    </>
  );
}

/** Above the lines where some of the logbook counts for nothing. */
function AsideLink() {
  const { aside = 0, unread = 0 } = frame.value ?? {};
  if (aside + unread === 0) return null;
  const told = [
    aside === 0 ? '' : `${aside} set aside: ${aside === 1 ? 'it cannot' : 'they cannot'} be true`,
    unread === 0 ? '' : unreadText(frame.value!),
  ].filter((text) => text !== '');
  return (
    <p class="lead-in">
      <a href={linkTo('logbook', 'aside')}>{told.join('. ')}</a>
    </p>
  );
}

/** Height of one line in pixels, as the style has it; all are alike, so that any of twenty thousand can be gone to at once. */
const rowHeight = (): number =>
  Number.parseFloat(getComputedStyle(document.documentElement).getPropertyValue('--entry'));
/** Lines fetched in one go. */
const PAGE = 50;

/** Only the lines in sight (and some around them) are in the document; each says which of how many it is. */
function Found({ words, kind }: { readonly words: string; readonly kind: string }) {
  const box = useRef<HTMLOListElement>(null);
  const span = useSignal<readonly [number, number]>([0, 12]);
  const wanted = useSignal<number | null>(null);
  const { answer, problems, working } = useAnswer('logbook', { words, kind, from: 0, count: PAGE });
  const total = answer?.total ?? 0;
  useEffect(() => {
    const look = (): void => {
      const row = rowHeight();
      const top = box.current?.getBoundingClientRect().top ?? 0;
      const first = Math.max(0, Math.floor(-top / row) - 4);
      const last = first + Math.ceil(innerHeight / row) + 8;
      if (first !== span.peek()[0] || last !== span.peek()[1]) span.value = [first, last];
    };
    look();
    addEventListener('scroll', look, { passive: true });
    addEventListener('resize', look);
    return () => {
      removeEventListener('scroll', look);
      removeEventListener('resize', look);
    };
  }, []);
  const [first, last] = span.value;
  const lineAt = usePages({ words, kind }, answer, first, last);
  if (!answer) return <NotYet problems={problems} doing="Reading the logbook …" />;
  const goTo = (at: number): void => {
    const top = box.current!.getBoundingClientRect().top + scrollY;
    wanted.value = at;
    scrollTo(0, at === 0 ? 0 : top + at * rowHeight() - innerHeight / 4);
  };
  const rows = Array.from({ length: Math.max(0, Math.min(last, total) - first) }, (_, at) => first + at);
  return (
    <div aria-busy={working}>
      <div class="row wrap logbook-head">
        <p class="soft" role="status">
          {total === 0
            ? 'Nothing of the kind is written here.'
            : `${total.toLocaleString('en-US')} ${total === 1 ? 'entry' : 'entries'}, newest first. `}
          <SheetLink sheet="history" text="Print the history" />
        </p>
        {answer.years.length > 1 && <Years years={answer.years} goTo={goTo} />}
      </div>
      <ol ref={box} class="lines" style={{ height: `calc(${total} * var(--entry))` }}>
        {rows.map((index) => (
          <Row key={index} index={index} line={lineAt(index)} total={total} wanted={wanted} />
        ))}
      </ol>
    </div>
  );
}

/** The lines from `first` to `last`, page by page as they are come to. The first page is the answer itself. */
function usePages(
  query: { readonly words: string; readonly kind: string },
  answer: LogbookPage | null,
  first: number,
  last: number,
): (index: number) => EntryLine | undefined {
  const pages = useSignal<ReadonlyMap<number, readonly EntryLine[]>>(new Map());
  const newest = useRef(answer);
  newest.current = answer;
  useEffect(() => {
    pages.value = new Map();
  }, [answer]);
  const total = answer?.total ?? 0;
  useEffect(() => {
    for (let page = Math.floor(first / PAGE); page <= Math.floor(last / PAGE); page++) {
      if (page === 0 || page * PAGE >= total || pages.peek().has(page)) continue;
      pages.value = new Map(pages.peek()).set(page, []);
      ask('logbook', { ...query, from: page * PAGE, count: PAGE }).then(
        ({ lines }) => {
          // What comes late belongs to what was looked for before.
          if (newest.current === answer) pages.value = new Map(pages.peek()).set(page, lines);
        },
        () => undefined,
      );
    }
  }, [first, last, answer]);
  return (index) => (index < PAGE ? answer?.lines[index] : pages.value.get(Math.floor(index / PAGE))?.[index % PAGE]);
}

function Years({ years, goTo }: { readonly years: LogbookPage['years']; readonly goTo: (at: number) => void }) {
  return (
    <label class="years">
      <span>Go to</span>
      <select
        onChange={({ currentTarget }) => {
          if (currentTarget.value !== '') goTo(Number(currentTarget.value));
          currentTarget.value = '';
        }}
      >
        <option value="">a year …</option>
        {years.map(({ year, at }) => (
          <option key={year} value={at}>
            {year}
          </option>
        ))}
      </select>
    </label>
  );
}

function Row(props: {
  readonly index: number;
  readonly line: EntryLine | undefined;
  readonly total: number;
  /** The line that was gone to: it takes the focus once it is there. */
  readonly wanted: Signal<number | null>;
}) {
  const { index, line, total, wanted } = props;
  const link = useRef<HTMLAnchorElement>(null);
  const here = line !== undefined && wanted.value === index;
  useEffect(() => {
    if (!here) return;
    link.current?.focus({ preventScroll: true });
    wanted.value = null;
  }, [here]);
  return (
    <li
      style={{ transform: `translateY(calc(${index} * var(--entry)))` }}
      aria-setsize={total}
      aria-posinset={index + 1}
    >
      {line ? (
        <a ref={link} href={linkTo('logbook', line.id)} class={line.struck ? 'line struck' : 'line'}>
          <span class="line-day">
            {line.day} <span class="soft">{line.by}</span>
            {line.struck && <b class="wrong"> struck</b>}
            {line.aside && <b class="wrong"> set aside</b>}
            {line.photos.length > 0 && <span class="soft"> {line.photos.length} photos</span>}
          </span>
          <span class="line-text">
            {line.head}
            {line.more === '' ? '' : `. ${line.more}`}
          </span>
        </a>
      ) : (
        <span class="line soft">…</span>
      )}
    </li>
  );
}
