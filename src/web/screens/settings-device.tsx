import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { frame } from '../replica/client.ts';
import { askToInstall, install } from '../shell/install.ts';
import { newer, takeNewer } from '../shell/version.ts';

/** The app on this device: installed, up to date, and kept. */
export function Device() {
  return (
    <div class="settings-columns">
      <Install />
      <div>
        <Version />
        <Kept />
      </div>
    </div>
  );
}

function Install() {
  return (
    <section aria-labelledby="h-install">
      <h2 id="h-install">Like a program of its own</h2>
      {install.value === 'inside' && <p>It is installed on this device.</p>}
      {install.value === 'offered' && (
        <>
          <p>Installed, it has a mark among your programs and opens without the browser’s bars, network or none.</p>
          <button type="button" class="below" onClick={askToInstall}>
            Install it on this device
          </button>
        </>
      )}
      {install.value === 'by-hand' && (
        <>
          <p>
            This browser offers nothing to press here just now. Where it can install pages at all, it does so from its
            own menu:
          </p>
          <ul class="call-whom">
            <li>iPhone and iPad: the share button, then “Add to Home Screen”.</li>
            <li>Android: the menu (three dots), then “Install” or “Add to Home screen”.</li>
            <li>On a desk: a small sign in the address bar, or “Install” in the menu.</li>
          </ul>
          {!isSecureContext && (
            <p>
              {location.origin} is neither https nor this very machine, and no browser installs, or keeps for offline,
              what it gets from there. <code>docs/operating.md</code> says how to put https before it.
            </p>
          )}
          <p class="lead-in">Without that it works just as well in the browser, offline too.</p>
        </>
      )}
    </section>
  );
}

function Version() {
  return (
    <section aria-labelledby="h-version">
      <h2 id="h-version">Version</h2>
      {newer.value === null ? (
        <p>
          No newer version waits here. One that the server has is fetched by itself, and takes over when you say so.
        </p>
      ) : (
        <>
          <p>A newer version is here and waits. What you wrote stays as it is.</p>
          <button type="button" class="below" onClick={takeNewer}>
            Reload with it
          </button>
        </>
      )}
    </section>
  );
}

/** A browser short of room may throw away what a page keeps, unless it was asked not to. */
function Kept() {
  const kept = useSignal<boolean | null>(null);
  const refused = useSignal(false);
  useEffect(() => {
    void navigator.storage?.persisted().then((yes) => (kept.value = yes));
  }, []);
  const keep = async (): Promise<void> => {
    kept.value = await navigator.storage.persist();
    refused.value = !kept.value;
  };
  const entries = (frame.value?.entries ?? 0).toLocaleString('en-US');
  return (
    <section aria-labelledby="h-kept">
      <h2 id="h-kept">Kept on this device</h2>
      <p>
        {entries} entries of this rig.{' '}
        {kept.value === true && 'The browser has promised not to throw them away when it runs short of room.'}
        {kept.value === false && 'The browser may throw them away when it runs short of room.'}
      </p>
      {kept.value === false && (
        <button type="button" class="quiet below" onClick={keep}>
          Ask the browser to keep them
        </button>
      )}
      {refused.value && (
        <p role="status">
          It made no promise. Installing the app often brings it round; a server or a file from “Data in and out” is
          safer anyway.
        </p>
      )}
    </section>
  );
}
