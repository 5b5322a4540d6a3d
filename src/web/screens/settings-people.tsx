import { ask, frame } from '../replica/client.ts';
import { say } from '../shell/said.tsx';
import { PageForm } from '../shell/spec-form.tsx';
import { Figure, type SettingsPart } from './settings-figure.tsx';
import { OwnList } from './settings-own.tsx';

/** Who writes on this device, and whom to call. */
export function Names({ view, set }: SettingsPart) {
  return (
    <div class="settings-columns">
      <section aria-labelledby="h-writer">
        <h2 id="h-writer">Who writes</h2>
        <Figure
          label="Who writes on this device"
          help="Every entry from here is signed with this name."
          value={frame.value?.by ?? ''}
          save={async (name) => {
            if (name === null) return [{ code: 'web.figure', what: 'Somebody writes', expected: 'a name' }];
            await ask('signAs', { name: String(name) });
            say(`Entries from this device are signed ${name}.`);
            return [];
          }}
        />
      </section>
      <section aria-labelledby="h-calls">
        <h2 id="h-calls">Whom to call at the roadside</h2>
        <OwnList
          lines={view.calls.map(({ key, name, number }) => ({ key: `call/${key}`, text: `${name}: ${number}` }))}
          set={set}
        />
        <PageForm own="call" button="Write whom to call" />
      </section>
    </div>
  );
}
