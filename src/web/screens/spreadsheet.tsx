import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { Problem } from '../../problem/index.ts';
import { ask, problemsOf } from '../replica/client.ts';
import type { TableAsk, TableView } from '../replica/views/table.ts';
import { brought } from '../shell/brought.ts';
import { Problems, sentence } from '../shell/problems.tsx';
import { linkTo } from '../shell/route.ts';
import { say } from '../shell/said.tsx';
import { Title } from '../shell/title.tsx';
import './spreadsheet.css';

type Said = Omit<TableAsk, 'file'>;
const NOTHING_SAID: Said = {
  roles: null,
  dateOrder: null,
  decimal: null,
  odometerUnit: null,
  readingUnit: null,
  leaveOut: [],
};

const ROLES: readonly (readonly [role: TableView['columns'][number]['role'], name: string])[] = [
  ['', 'Leave it out'],
  ['date', 'The day'],
  ['what', 'What was done or read, in words'],
  ['part', 'The part or its place'],
  ['value', 'A value read'],
  ['reading', 'A value read on what its heading names'],
  ['temperature', 'The air temperature'],
  ['odometer', 'The odometer'],
  ['tow-odometer', 'The tow vehicle’s odometer'],
  ['cost', 'What it cost'],
  ['by', 'Who did it'],
  ['note', 'A note'],
];

/** Where the answer to a question goes. Which column is the day is said by the columns themselves. */
const ANSWERED_BY = {
  'date order': 'dateOrder',
  decimal: 'decimal',
  'odometer unit': 'odometerUnit',
  'reading unit': 'readingUnit',
} as const satisfies Readonly<Record<string, keyof Said>>;

/** A spreadsheet into the logbook: what its columns mean, what each line would write, and all of it or nothing. */
export function Spreadsheet() {
  const said = useSignal<Said>(NOTHING_SAID);
  const view = useSignal<TableView | null>(null);
  const problems = useSignal<readonly Problem[]>([]);
  const file = brought.value;
  const look = async (about: Said): Promise<void> => {
    said.value = about;
    try {
      view.value = await ask('table', { file: brought.value!, ...about });
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
  const write = async (): Promise<void> => {
    try {
      const { ids } = await ask('writeTable', { file: file!, ...said.value });
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
        written, or none; a line can be left out knowingly.
      </p>
      <label class="field">
        <span>{file ? `Another file than ${file.name}` : 'Spreadsheet file'}</span>
        <input
          type="file"
          accept=".csv,.tsv,.txt,.xlsx,.xls,.ods,text/csv"
          onChange={(event) => {
            brought.value = event.currentTarget.files?.[0] ?? brought.value;
          }}
        />
      </label>
      <Problems problems={problems.value} />
      {view.value && (
        <>
          <Meaning view={view.value} said={said.value} look={look} />
          <Lines view={view.value} said={said.value} look={look} write={write} />
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
      at === index ? role : column.role === role && role !== 'reading' ? '' : column.role,
    ) as Said['roles'];
    void look({ ...said, roles });
  };
  const asked = view.questions.flatMap((one) =>
    one.about === 'date column' ? [] : [{ ...one, key: ANSWERED_BY[one.about] }],
  );
  const dayless = view.questions.find((one) => one.about === 'date column');
  return (
    <section aria-labelledby="h-meaning">
      <h2 id="h-meaning">What the columns mean</h2>
      {asked.map(({ about, key, choices, text }) => (
        <label key={about} class="field question">
          <span>{text}</span>
          <select
            value={said[key] ?? ''}
            onChange={(event) => void look({ ...said, [key]: event.currentTarget.value || null })}
          >
            <option value="">Not said yet</option>
            {choices.map(([value, meaning]) => (
              <option key={value} value={value} selected={value === said[key]}>
                {meaning}
              </option>
            ))}
          </select>
        </label>
      ))}
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
    </section>
  );
}

/** So many lines are drawn; the rest is counted. */
const SHOWN = 200;
const lines = (count: number): string => `${count.toLocaleString('en-US')} ${count === 1 ? 'line' : 'lines'}`;

interface LinesProps {
  readonly view: TableView;
  readonly said: Said;
  readonly look: (about: Said) => Promise<void>;
  readonly write: () => Promise<void>;
}

function Lines({ view, said, look, write }: LinesProps) {
  const { accepted, rejected, known, passed } = view;
  const open = view.questions.filter(({ answered }) => !answered).length;
  if (open > 0) return <p class="lead-in">Nothing can be read until {open === 1 ? 'this is' : 'these are'} said.</p>;
  return (
    <section aria-labelledby="h-lines" aria-live="polite">
      <h2 id="h-lines">
        {rejected.length === 0
          ? `${said.leaveOut.length === 0 ? 'All' : 'The rest'} of ${lines(view.lines)} can be read`
          : `${lines(rejected.length)} of ${view.lines.toLocaleString('en-US')} cannot be taken`}
      </h2>
      {known > 0 && <p>{lines(known)} stand in the logbook already, and are passed over.</p>}
      {rejected.length > 0 && <RefusedLines view={view} said={said} look={look} />}
      {passed.length > 0 && (
        <details>
          <summary>{lines(passed.length)} passed over</summary>
          <ul class="plain">
            {passed.map(({ line, why }) => (
              <li key={line}>
                <b>Line {line}</b> <span class="soft">{why}</span>
              </li>
            ))}
          </ul>
          {said.leaveOut.length > 0 && (
            <button type="button" class="quiet" onClick={() => void look({ ...said, leaveOut: [] })}>
              Leave none out
            </button>
          )}
        </details>
      )}
      {accepted.length > 0 && (
        <details open={rejected.length === 0}>
          <summary>What {lines(accepted.length)} would write</summary>
          <ol class="plain accepted">
            {accepted.slice(0, SHOWN).map(({ line, said: words }) => (
              <li key={line}>
                <span class="soft">{line}</span> {words}
              </li>
            ))}
          </ol>
          {accepted.length > SHOWN && <p class="soft">And {lines(accepted.length - SHOWN)} more.</p>}
        </details>
      )}
      {rejected.length === 0 && (
        <div class="row end">
          <button type="button" class="writes" disabled={accepted.length === 0} onClick={write}>
            {accepted.length === 0
              ? 'Nothing is new'
              : `Write ${said.leaveOut.length === 0 ? 'all of ' : ''}${lines(accepted.length)}`}
          </button>
        </div>
      )}
    </section>
  );
}

function RefusedLines({ view, said, look }: Omit<LinesProps, 'write'>) {
  const { rejected } = view;
  const leave = (out: readonly number[]): void => void look({ ...said, leaveOut: [...said.leaveOut, ...out] });
  return (
    <>
      <p>
        Nothing is written until every line can be, or is left out. Mend these in your spreadsheet and pick the file
        again, or leave them out.
        {view.bare && (
          <>
            {' '}
            No part of the rig is on record yet: <a href={linkTo('walk')}>walk round it first</a>, so that lines find
            theirs.
          </>
        )}
      </p>
      <ol class="plain rejected">
        {rejected.slice(0, SHOWN).map(({ line, cells, problems }) => (
          <li key={line}>
            <b>Line {line}</b> <span class="soft">{cells.filter((cell) => cell !== '').join(' · ')}</span>
            {problems.map((problem) => (
              <p key={`${problem.code} ${problem.what}`}>
                <span class="wrong">{sentence(problem.what)}</span>
                {problem.expected === undefined ? '' : ` Expected: ${sentence(problem.expected)}`}
              </p>
            ))}
            <button type="button" class="quiet" onClick={() => leave([line])}>
              Leave line {line} out
            </button>
          </li>
        ))}
      </ol>
      {rejected.length > SHOWN && <p class="soft">And {lines(rejected.length - SHOWN)} more.</p>}
      {rejected.length > 1 && (
        <button type="button" class="quiet" onClick={() => leave(rejected.map(({ line }) => line))}>
          Leave all {lines(rejected.length)} out
        </button>
      )}
    </>
  );
}
