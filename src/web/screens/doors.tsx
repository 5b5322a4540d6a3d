import { useSignal } from '@preact/signals';
import './doors.css';
import demoFile from '../../../demo/marigold.jsonl?url';
import type { Problem } from '../../problem/index.ts';
import { ask, problemsOf } from '../replica/client.ts';
import { brought, isSpreadsheet } from '../shell/brought.ts';
import { Problems } from '../shell/problems.tsx';
import { linkTo } from '../shell/route.ts';
import { Title } from '../shell/title.tsx';

/** The first day: three doors. */
export function Doors({ first = false }: { readonly first?: boolean }) {
  const problems = useSignal<readonly Problem[]>([]);
  const busy = useSignal('');
  const run = async (text: string, work: () => Promise<void>): Promise<void> => {
    busy.value = text;
    problems.value = [];
    try {
      await work();
    } catch (error) {
      problems.value = problemsOf(error);
    }
    busy.value = '';
  };
  const take = async (text: string, demo: boolean): Promise<void> => {
    const answer = await ask('importText', { text, demo });
    if ('problems' in answer) problems.value = answer.problems;
    else location.hash = linkTo('go');
  };
  const demo = (): Promise<void> =>
    run('Opening the demo …', async () => take(await (await fetch(demoFile)).text(), true));
  const file = (picked: File | undefined): Promise<void> =>
    run('Reading the file …', async () => {
      if (!picked) return;
      if (!isSpreadsheet(picked)) return take(await picked.text(), false);
      if (first) await ask('startRig', { name: picked.name.replace(/\.\w+$/, '') });
      brought.value = picked;
      location.hash = linkTo('spreadsheet');
    });
  const begin = (event: SubmitEvent): Promise<void> => {
    event.preventDefault();
    const name = String(new FormData(event.currentTarget as HTMLFormElement).get('name'));
    return run('Opening a new logbook …', async () => {
      await ask('startRig', { name });
      location.hash = linkTo('walk');
    });
  };
  const content = (
    <>
      <Title>Can we go?</Title>
      <p class="lead">
        A logbook for one towed trailer and what tows it. It tells you what must be done before each trip, what can
        wait, and how much margin is left. Everything is worked out on this device.
      </p>
      <div class="doors">
        <section>
          <h2>Look at the demo</h2>
          <p>Marigold, a 2014 tandem axle, and Biscuit in front of her. Five seasons of entries, all invented.</p>
          <button type="button" onClick={demo}>
            Open the demo rig
          </button>
        </section>
        <section>
          <h2>Walk round your rig</h2>
          <p>We lead you from place to place and ask for codes, dates and readings. “Can’t tell” is an answer.</p>
          <form onSubmit={begin}>
            <label class="field">
              <span>What is the trailer called?</span>
              <input name="name" required maxLength={40} autocomplete="off" />
            </label>
            <button type="submit">Begin the walk-round</button>
          </form>
        </section>
        <section>
          <h2>Bring a logbook along</h2>
          <p>
            A file written by “export”, or a spreadsheet saved as CSV: one entry a line. All of it is taken in, or none
            and every reason.
          </p>
          <label class="field">
            <span>Logbook file</span>
            <input
              type="file"
              accept=".jsonl,application/json,.csv,.tsv,text/csv"
              onChange={(event) => file(event.currentTarget.files?.[0])}
            />
          </label>
        </section>
      </div>
      {first && (
        <p class="lead">
          Is your rig on this server already? <a href={linkTo('people')}>Sign in</a>.
        </p>
      )}
      <p role="status">{busy.value}</p>
      <Problems problems={problems.value} />
    </>
  );
  return first ? <main class="first-day">{content}</main> : <div class="first-day">{content}</div>;
}
