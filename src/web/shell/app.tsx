import type { ComponentType } from 'preact';
import { frame } from '../replica/client.ts';
import type { Frame } from '../replica/frame.ts';
import { Doors } from '../screens/doors.tsx';
import { Go } from '../screens/go.tsx';
import { FormHost } from './form.tsx';
import { Header, Nav } from './head.tsx';
import { lazily } from './lazily.tsx';
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
  spreadsheet: lazily(async () => (await import('../screens/spreadsheet.tsx')).Spreadsheet),
  sheet: lazily(async () => (await import('../screens/sheet.tsx')).Sheet),
  round: lazily(async () => (await import('../screens/round.tsx')).Round),
  season: lazily(async () => (await import('../screens/season.tsx')).Season),
};

export function App() {
  const now = frame.value;
  if (now === null || now.stage === 'opening') return <Opening />;
  if (now.stage === 'empty') return route.value.screen === 'people' ? <Joining /> : <Doors first />;
  return <Open now={now} />;
}

function Opening() {
  return (
    <main class="opening" aria-busy="true">
      <Title>Opening the logbook …</Title>
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

function Open({ now }: { readonly now: Frame }) {
  const { screen } = route.value;
  const Screen = screens[screen] ?? Go;
  return (
    <>
      <button type="button" class="skip" onClick={skip}>
        To the page
      </button>
      <Header now={now} />
      <main id="main">
        <Screen key={now.rig} />
      </main>
      <div class="foot">
        <SaidBar />
        <WriteLine />
        <Nav />
      </div>
      <FormHost />
    </>
  );
}

function skip(): void {
  document.querySelector<HTMLElement>('main h1')?.focus();
}
