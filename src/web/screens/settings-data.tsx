import { useSignal } from '@preact/signals';
import { ask, frame } from '../replica/client.ts';
import { linkTo } from '../shell/route.ts';
import { saveFile } from '../shell/save-file.ts';
import { Copies } from './copies.tsx';
import { Doors } from './doors.tsx';

/** The logbook as files: out, in, and the copies a server makes. */
export function Data() {
  const open = useSignal(false);
  const now = frame.value!;
  const save = async (question: 'exportText' | 'exportCsv', ending: string, type: string): Promise<void> =>
    saveFile(`${now.rig ?? 'rig'}-${now.today}.${ending}`, type, await ask(question, {}));
  return (
    <div class="settings-columns">
      <div>
        <section aria-labelledby="h-out">
          <h2 id="h-out">Out: the logbook is yours</h2>
          <p>
            The whole logbook is one file of plain text, one entry a line, made on this device without any network.
            Photos are not in it. Keep it somewhere else than this device.
          </p>
          <p class="row wrap lead-in">
            <button type="button" class="quiet" onClick={() => save('exportText', 'jsonl', 'application/jsonl')}>
              Export the logbook
            </button>
            <button type="button" class="quiet" onClick={() => save('exportCsv', 'csv', 'text/csv')}>
              Export as a spreadsheet
            </button>
          </p>
        </section>
        <section aria-labelledby="h-in" class="writes">
          <h2 id="h-in">In: put it back, or bring it along</h2>
          <p>
            A file from “Export the logbook” puts everything back, here or on a new device: lines that are here already
            are not doubled. All of it is taken in, or none and every reason.
          </p>
          <p class="row wrap lead-in">
            <button type="button" class="quiet" aria-expanded={open.value} onClick={() => (open.value = !open.value)}>
              Another rig, or an import
            </button>
            <a class="button quiet" href={linkTo('spreadsheet')}>
              Bring in a spreadsheet
            </a>
          </p>
          {open.value && <Doors />}
        </section>
      </div>
      <Copies rig={now.rig!} />
    </div>
  );
}
