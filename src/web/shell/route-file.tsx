import { useSignal } from '@preact/signals';
import type { Problem } from '../../problem/index.ts';
import { ask, problemsOf } from '../replica/client.ts';
import { Problems } from './problems.tsx';

/** A trip's way from a file: its length goes into the field beside it, its stops go along, and what it rests on is said. */
export function RouteFile({ path }: { readonly path: string }) {
  const said = useSignal('');
  const stops = useSignal('');
  const problems = useSignal<readonly Problem[]>([]);
  const take = async (input: HTMLInputElement): Promise<void> => {
    const file = input.files?.[0];
    if (!file) return;
    try {
      const read = await ask('route', { text: await file.text() });
      const field = (name: string) => input.form?.elements.namedItem(name);
      const [length, unit] = [field(path), field(`${path}#unit`)];
      if (length instanceof HTMLInputElement) length.value = read.length;
      if (unit instanceof HTMLSelectElement) unit.value = read.unit;
      stops.value = JSON.stringify(read.stops);
      said.value = read.text;
      problems.value = [];
    } catch (error) {
      said.value = '';
      stops.value = '';
      problems.value = problemsOf(error);
    }
  };
  return (
    <div class="field">
      <label for={`file-${path}`}>Or by a file: GPX, or a list of places or legs</label>
      <input
        id={`file-${path}`}
        type="file"
        accept=".gpx,.txt,.csv,application/gpx+xml,text/plain"
        onChange={(event) => void take(event.currentTarget)}
      />
      {stops.value !== '' && <input type="hidden" name="stops" value={stops.value} />}
      <small class="soft" aria-live="polite">
        {said.value}
      </small>
      <Problems problems={problems.value} />
    </div>
  );
}
