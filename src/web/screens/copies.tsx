import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { Problem } from '../../problem/index.ts';
import { problemsOf } from '../replica/client.ts';
import { api } from '../shell/api.ts';
import { linkTo } from '../shell/route.ts';

interface Copy {
  readonly name: string;
  readonly madeAt: string;
  readonly bytes: number;
  readonly entries: number | null;
  readonly state: 'verified' | 'changed' | 'unknown';
}

interface CopyList {
  /** False where the server makes none by itself. */
  readonly made: boolean;
  readonly copies: readonly Copy[];
}

const STATES: Readonly<Record<Copy['state'], string>> = {
  verified: 'Whole: read back when it was made, and the same since.',
  changed: 'Changed since it was made: do not trust it.',
  unknown: 'Nothing says what it was when it was made.',
};

function bytesText(bytes: number): string {
  if (bytes < 1e6) return `${Math.ceil(bytes / 1e3)} kB`;
  return `${(bytes / 1e6).toFixed(bytes < 1e8 ? 1 : 0)} MB`;
}

const momentOf = (instant: string): string =>
  new Date(instant).toLocaleString('en-GB', {
    day: 'numeric',
    month: 'short',
    year: 'numeric',
    hour: '2-digit',
    minute: '2-digit',
  });

/** The copies that the server makes by itself, and one of this rig to take home. Owners only. */
export function Copies({ rig }: { readonly rig: string }) {
  const list = useSignal<CopyList | null>(null);
  const problem = useSignal<Problem | null>(null);
  useEffect(() => {
    api<CopyList>('GET', `/api/rigs/${rig}/copies`).then(
      (answer) => (list.value = answer),
      (error) => (problem.value = problemsOf(error)[0]!),
    );
  }, [rig]);
  return (
    <section aria-labelledby="h-copies" aria-busy={list.value === null && problem.value === null}>
      <h2 id="h-copies">Safe copies at the server</h2>
      {problem.value !== null && <Without problem={problem.value} />}
      {list.value !== null && <Listed rig={rig} list={list.value} />}
    </section>
  );
}

function Without({ problem }: { readonly problem: Problem }) {
  switch (problem.code) {
    case 'web.unreached':
      return <p>No server can be reached. The file above is your copy until one can.</p>;
    case 'access.sign-in':
      return (
        <p>
          <a href={linkTo('people')}>Sign in</a> to see them.
        </p>
      );
    case 'access.role':
      return <p>Only owners of the rig see its copies and take one home.</p>;
    case 'access.not-found':
      return (
        <p>
          The server does not know this rig. <a href={linkTo('people')}>Put it there</a>, and it copies it by itself.
        </p>
      );
    default:
      return <p class="wrong">{problem.what}.</p>;
  }
}

function Listed({ rig, list }: { readonly rig: string; readonly list: CopyList }) {
  return (
    <>
      <p>
        One file with the logbook and all photos, made now and read back whole before it is sent; “rigworthy import”
        takes it in, on any machine.
      </p>
      <p class="row wrap lead-in">
        <a class="button" href={`/api/rigs/${rig}/archive`} download>
          Download a copy
        </a>
        <a class="button quiet" href={`/api/rigs/${rig}/archive?places=left-out`} download>
          Without where photos were taken
        </a>
      </p>
      <h3 class="calls-head">Made by the server itself</h3>
      {!list.made && (
        <p>
          This server makes none by itself: it was started without them. <code>docs/operating.md</code> says how to have
          them.
        </p>
      )}
      {list.made && list.copies.length === 0 && <p>None yet: the first is made within a day.</p>}
      <ul class="plain copies">
        {list.copies.map((one) => (
          <li key={one.name} class={one.state === 'verified' ? '' : 'wrong'}>
            <b>{momentOf(one.madeAt)}</b>, {bytesText(one.bytes)}
            {one.entries === null ? '' : `, ${one.entries.toLocaleString('en-US')} entries of this rig`}.{' '}
            <span class={one.state === 'verified' ? 'soft' : ''}>{STATES[one.state]}</span>
          </li>
        ))}
      </ul>
    </>
  );
}
