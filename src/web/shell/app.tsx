import type { ComponentType } from 'preact';
import { useEffect, useMemo } from 'preact/hooks';
import { frame } from '../replica/client.ts';
import type { Frame } from '../replica/frame.ts';
import { shareLink } from '../replica/share-link.ts';
import { Doors } from '../screens/doors.tsx';
import { Go } from '../screens/go.tsx';
import { Ended } from './ended.tsx';
import { FormHost } from './form-host.tsx';
import { Header, Nav, ReadsOnly } from './head.tsx';
import { lazily } from './lazily.tsx';
import { Offers } from './offers.tsx';
import { route } from './route.ts';
import { SaidBar } from './said.tsx';
import { Title } from './title.tsx';
import { WriteLine } from './write-line.tsx';

/** The first screen comes with the shell; the others when they are first gone to, from the device once it has been here. */
const screens: Readonly<Record<string, ComponentType>> = {
  go: Go,
  rig: lazily(async () => (await import('../screens/rig.tsx')).Rig),
  logbook: lazily(async () => (await import('../screens/logbook.tsx')).Logbook),
  roadside: lazily(async () => (await import('../screens/roadside.tsx')).Roadside),
  scale: lazily(async () => (await import('../screens/scale.tsx')).Scale),
  settings: lazily(async () => (await import('../screens/settings.tsx')).Settings),
  walk: lazily(async () => (await import('../screens/walk.tsx')).Walk),
  reckon: lazily(async () => (await import('../screens/reckon.tsx')).Reckon),
  people: lazily(async () => (await import('../screens/people.tsx')).People),
  outbox: lazily(async () => (await import('../screens/outbox.tsx')).Outbox),
  spreadsheet: lazily(async () => (await import('../screens/spreadsheet.tsx')).Spreadsheet),
  sheet: lazily(async () => (await import('../screens/sheet.tsx')).Sheet),
  round: lazily(async () => (await import('../screens/round.tsx')).Round),
  season: lazily(async () => (await import('../screens/season.tsx')).Season),
};

export function App() {
  const now = frame.value;
  if (now === null || now.stage === 'opening') return <Opening coming={now?.coming ?? 0} />;
  if (now.stage === 'ended' || (now.stage === 'empty' && shareLink() !== null)) return <Ended now={now} />;
  if (now.stage === 'empty') return route.value.screen === 'people' ? <Joining /> : <Doors first />;
  return <Open now={now} />;
}

/** A first visit to a long logbook takes its time: said in thousands, so that a reader by ear is not told a hundred times. */
function Opening({ coming }: { readonly coming: number }) {
  return (
    <main class="opening" aria-busy="true">
      <Title>Opening the logbook …</Title>
      {coming >= 1000 && (
        <p class="soft" role="status">
          Fetching it from the server: {coming.toLocaleString('en-US')} lines so far.
        </p>
      )}
    </main>
  );
}

/** No rig is here yet: to sign in is a way to one. */
function Joining() {
  const People = screens.people!;
  return (
    <main>
      <People />
    </main>
  );
}

/** Pages that are there to write. */
const WRITING: ReadonlySet<string> = new Set(['round', 'walk', 'spreadsheet']);
/** Pages about one's own device and account: not for whoever looks at another's rig by a link. */
const OWN: ReadonlySet<string> = new Set(['settings', 'people', 'outbox']);

function Open({ now }: { readonly now: Frame }) {
  const { screen } = route.value;
  const closed = (!now.mayWrite && WRITING.has(screen)) || (now.shown !== null && OWN.has(screen));
  const Screen = (closed ? undefined : screens[screen]) ?? Go;
  // A screen draws itself anew when its answer changes, not because the head of the page did.
  const page = useMemo(() => <Screen key={now.rig} />, [Screen, now.rig]);
  // Whatever is marked as writing is not there for readers.
  useEffect(() => {
    document.documentElement.toggleAttribute('data-reads', !now.mayWrite);
  }, [now.mayWrite]);
  return (
    <>
      <button type="button" class="skip" onClick={skip}>
        To the page
      </button>
      <Header now={now} />
      <ReadsOnly now={now} />
      <main id="main">{page}</main>
      <div class="foot">
        <Offers now={now} />
        <SaidBar />
        {now.mayWrite && <WriteLine />}
        <Nav />
      </div>
      <FormHost />
    </>
  );
}

function skip(): void {
  document.querySelector<HTMLElement>('main h1')?.focus();
}
