import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { Problem } from '../../problem/index.ts';
import { ask, problemsOf } from '../replica/client.ts';
import type { TableAsk, TableView } from '../replica/views/table.ts';
import { brought } from '../shell/brought.ts';
import { Problems } from '../shell/problems.tsx';
import { linkTo } from '../shell/route.ts';
import { say } from '../shell/said.tsx';
import { Title } from '../shell/title.tsx';
import './spreadsheet.css';

type Said = Omit<TableAsk, 'text'>;
const NOTHING_SAID: Said = { roles: null, dateOrder: null, decimal: null, odometerUnit: null };

const ROLES: readonly (readonly [role: TableView['columns'][number]['role'], name: string])[] = [
  ['', 'Leave it out'],
  ['date', 'The day'],
  ['what', 'What was done or read, in words'],
  ['part', 'The part or its place'],
  ['value', 'A value read'],
  ['odometer', 'The odometer'],
  ['cost', 'What it cost'],
  ['note', 'A note'],
];

/** What only the owner can say, and the answers there are. */
const ANSWERS: Readonly<Record<string, { key: keyof Said; choices: readonly (readonly [string, string])[] }>> = {
  'date order': {
    key: 'dateOrder',
    choices: [
      ['mdy', 'month, day, year'],
      ['dmy', 'day, month, year'],
    ],
  },
  decimal: {
    key: 'decimal',
    choices: [
      ['.', 'thousands: 1,500 is fifteen hundred'],
      [',', 'decimals: 1,5 is one and a half'],
    ],
  },
  'odometer unit': {
    key: 'odometerUnit',
    choices: [
      ['mi', 'miles'],
      ['km', 'kilometers'],
    ],
  },
};

/** A spreadsheet into the logbook: what its columns mean, what each line would write, and all of it or nothing. */
export function Spreadsheet() {
  const said = useSignal<Said>(NOTHING_SAID);
  const view = useSignal<TableView | null>(null);
  const problems = useSignal<readonly Problem[]>([]);
  const file = brought.value;
  const look = async (about: Said): Promise<void> => {
    const { text } = brought.value!;
    said.value = about;
    try {
      view.value = await ask('table', { text, ...about });
      problems.value = [];
    } catch (error) {
      view.value = null;
      problems.value = problemsOf(error);
    }
  };
  useEffect(() => {
    view.value = null;
    if (file) void look(NOTHING_SAID);
  }, [file]);
  const pick = async (picked: File | undefined): Promise<void> => {
    if (picked) brought.value = { name: picked.name, text: await picked.text() };
  };
  const write = async (): Promise<void> => {
    try {
      const { ids } = await ask('writeTable', { text: file!.text, ...said.value });
      say(`Written: ${ids.length} ${ids.length === 1 ? 'entry' : 'entries'} from ${file!.name}`, ids);
      brought.value = null;
      location.hash = linkTo('logbook');
    } catch (error) {
      problems.value = problemsOf(error);
    }
  };
  return (
    <div class="spreadsheet">
      <Title>A spreadsheet into the logbook</Title>
      <p class="soft lead-in">
        One line an entry, with a heading, saved as CSV. You see first what each line would write. All of them are
        written, or none.
      </p>
      <label class="field">
        <span>{file ? `Another file than ${file.name}` : 'Spreadsheet file'}</span>
        <input
          type="file"
          accept=".csv,.tsv,.txt,text/csv"
          onChange={(event) => void pick(event.currentTarget.files?.[0])}
        />
      </label>
      <Problems problems={problems.value} />
      {view.value && (
        <>
          <Meaning view={view.value} said={said.value} look={look} />
          <Lines view={view.value} write={write} />
        </>
      )}
    </div>
  );
}

function Meaning(props: {
  readonly view: TableView;
  readonly said: Said;
  readonly look: (about: Said) => Promise<void>;
}) {
  const { view, said, look } = props;
  const give = (index: number, role: string): void => {
    const roles = view.columns.map((column, at) =>
      at === index ? role : column.role === role ? '' : column.role,
    ) as Said['roles'];
    void look({ ...said, roles });
  };
  const asked = Object.entries(ANSWERS).flatMap(([about, { key, choices }]) => {
    const text = view.questions.find((one) => one.about === about)?.text;
    return text !== undefined || said[key] !== null ? [{ about, key, choices, text }] : [];
  });
  const dayless = view.questions.find((one) => one.about === 'date column');
  return (
    <section aria-labelledby="h-meaning">
      <h2 id="h-meaning">What the columns mean</h2>
      {dayless && <p class="wrong">{dayless.text}</p>}
      <div class="columns-meaning">
        {view.columns.map((column, index) => (
          <label key={`${index} ${column.name}`} class="field">
            <span>{column.name || `Column ${index + 1}`}</span>
            <small class="soft">{column.sample === '' ? 'nothing in it' : `such as “${column.sample}”`}</small>
            <select value={column.role} onChange={(event) => give(index, event.currentTarget.value)}>
              {ROLES.map(([role, name]) => (
                <option key={role} value={role} selected={role === column.role}>
                  {name}
                </option>
              ))}
            </select>
          </label>
        ))}
      </div>
      {asked.map(({ about, key, choices, text }) => (
        <label key={about} class="field question">
          <span>{text ?? `The ${about}, as you said`}</span>
          <select
            value={said[key] === null ? '' : String(said[key])}
            onChange={(event) => void look({ ...said, [key]: event.currentTarget.value || null })}
          >
            <option value="">Not said yet</option>
            {choices.map(([value, name]) => (
              <option key={value} value={value} selected={value === said[key]}>
                {name}
              </option>
            ))}
          </select>
        </label>
      ))}
    </section>
  );
}

/** So many lines are drawn; the rest is counted. */
const SHOWN = 200;
const lines = (count: number): string => `${count.toLocaleString('en-US')} ${count === 1 ? 'line' : 'lines'}`;

function Lines({ view, write }: { readonly view: TableView; readonly write: () => Promise<void> }) {
  const { accepted, rejected, known } = view;
  if (view.questions.length > 0)
    return (
      <p class="lead-in">Nothing can be read until {view.questions.length === 1 ? 'this is' : 'these are'} said.</p>
    );
  return (
    <section aria-labelledby="h-lines" aria-live="polite">
      <h2 id="h-lines">
        {rejected.length === 0
          ? `All of ${lines(view.lines)} can be read`
          : `${lines(rejected.length)} of ${view.lines.toLocaleString('en-US')} cannot be taken`}
      </h2>
      {known > 0 && <p>{lines(known)} stand in the logbook already, and are passed over.</p>}
      {rejected.length > 0 && (
        <>
          <p>
            Nothing is written until every line can be. Mend these in your spreadsheet, or take them out, and pick the
            file again.
            {view.bare && (
              <>
                {' '}
                No part of the rig is on record yet: <a href={linkTo('walk')}>walk round it first</a>, so that lines
                find theirs.
              </>
            )}
          </p>
          <ol class="plain rejected">
            {rejected.slice(0, SHOWN).map(({ line, cells, problems }) => (
              <li key={line}>
                <b>Line {line}</b> <span class="soft">{cells.filter((cell) => cell !== '').join(' · ')}</span>
                {problems.map((problem) => (
                  <p key={`${problem.code} ${problem.what}`}>
                    <span class="wrong">{problem.what}.</span>
                    {problem.expected === undefined ? '' : ` Expected: ${problem.expected}.`}
                  </p>
                ))}
              </li>
            ))}
          </ol>
          {rejected.length > SHOWN && <p class="soft">And {lines(rejected.length - SHOWN)} more.</p>}
        </>
      )}
      {accepted.length > 0 && (
        <details open={rejected.length === 0}>
          <summary>What {lines(accepted.length)} would write</summary>
          <ol class="plain accepted">
            {accepted.slice(0, SHOWN).map(({ line, said }) => (
              <li key={line}>
                <span class="soft">{line}</span> {said}
              </li>
            ))}
          </ol>
          {accepted.length > SHOWN && <p class="soft">And {lines(accepted.length - SHOWN)} more.</p>}
        </details>
      )}
      {rejected.length === 0 && (
        <div class="row end">
          <button type="button" disabled={accepted.length === 0} onClick={write}>
            {accepted.length === 0 ? 'Nothing is new' : `Write all of ${lines(accepted.length)}`}
          </button>
        </div>
      )}
    </section>
  );
}
