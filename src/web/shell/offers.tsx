import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { Frame } from '../replica/frame.ts';
import { askToInstall, firstTelling, install } from './install.ts';
import { newer, takeNewer } from './version.ts';

/** Fewer than these, and the rig is only being looked at. */
const AT_HOME = 5;

/** What the app would say of itself, one line at most: a newer version is here; once, that it can be installed. */
export function Offers({ now }: { readonly now: Frame }) {
  const later = useSignal(false);
  const telling = useSignal(false);
  const offered = install.value === 'offered' && now.mayWrite && now.entries >= AT_HOME;
  useEffect(() => {
    if (offered && firstTelling()) telling.value = true;
  }, [offered]);
  const update = newer.value !== null && !later.value;
  const putOff = (): void => {
    if (update) later.value = true;
    else telling.value = false;
  };
  if (!update && !(telling.value && offered)) return null;
  return (
    <div class="said" role="status">
      <div class="said-in">
        <span>
          {update
            ? 'A newer version is ready. What you wrote stays as it is.'
            : 'This can be installed here: it then opens like any program, network or none.'}
        </span>
        <button type="button" onClick={update ? takeNewer : askToInstall}>
          {update ? 'Reload with it' : 'Install'}
        </button>
        <button type="button" class="quiet" onClick={putOff}>
          Later
        </button>
      </div>
    </div>
  );
}
