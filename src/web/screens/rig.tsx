import { signal } from '@preact/signals';
import { useMemo } from 'preact/hooks';
import './rig.css';
import { type Place, placesOf } from '../drawings/places.ts';
import { RigAbove, statusText } from '../drawings/rig-above.tsx';
import { RigSide } from '../drawings/rig-side.tsx';
import { useAnswer } from '../replica/client.ts';
import type { PartLine, RigView, Standing } from '../replica/views/rig.ts';
import { FindWords } from '../shell/find-words.tsx';
import { openForm } from '../shell/form.ts';
import { StandingMark } from '../shell/marks.tsx';
import { NotYet } from '../shell/problems.tsx';
import { linkTo, route } from '../shell/route.ts';
import { SheetLink } from '../shell/sheet-link.tsx';
import { Title } from '../shell/title.tsx';
import { comeBackTo } from '../shell/visits.ts';
import { Wide } from '../shell/width.tsx';
import { Part } from './part.tsx';

/** The rig: from above and from the side, made of the places that were written down; a place leads to its parts, a part to its page. */
export function Rig() {
  const [first, second] = route.value.rest;
  if (first !== undefined && first !== 'at') return <Part id={first} />;
  return <Whole at={second ?? null} />;
}

function Whole({ at }: { readonly at: string | null }) {
  const { answer, problems } = useAnswer('rig', {});
  if (!answer) {
    return (
      <>
        <Title>The rig</Title>
        <NotYet problems={problems} doing="Working it out …" />
      </>
    );
  }
  const places = placesOf(answer.parts, answer);
  const chosen = places.find((place) => place.id === at);
  return (
    <>
      <Title>{chosen ? capital(chosen.name) : answer.trailer}</Title>
      <p class="soft lead-in">
        {chosen ? (
          <a href={linkTo('rig')}>The whole rig</a>
        ) : (
          answer.parts.length > 0 &&
          `${answer.odometer}. ${counted(answer.parts.length, 'part')} at ${counted(places.length, 'place')}.`
        )}
      </p>
      {answer.parts.length === 0 ? <Empty /> : <Drawn view={answer} places={places} chosen={chosen} />}
    </>
  );
}

const counted = (count: number, name: string): string => `${count} ${name}${count === 1 ? '' : 's'}`;

function Empty() {
  return (
    <>
      <p class="lead">No part is on record yet. The walk-round leads from place to place; “can’t tell” is an answer.</p>
      <p class="lead-in">
        <a class="button writes" href={linkTo('walk')}>
          Walk round the rig
        </a>
      </p>
    </>
  );
}

function Drawn({
  view,
  places,
  chosen,
}: {
  readonly view: RigView;
  readonly places: readonly Place[];
  readonly chosen: Place | undefined;
}) {
  return (
    <div class="rig-columns">
      <div class="rig-drawings">
        <Wide>
          {(width) => (
            <RigAbove
              width={Math.min(width, 460)}
              places={places}
              axles={view.axles}
              tow={view.tow}
              trailer={view.trailer}
            />
          )}
        </Wide>
        <Wide>
          {(width) => (
            <RigSide
              width={Math.min(width, 460)}
              axles={view.axles}
              towAxles={view.towAxles}
              label={`${view.tow} and ${view.trailer} from the side`}
            />
          )}
        </Wide>
        <ul class="signs plain">
          <li>
            <StandingMark standing="out" /> something has run out
          </li>
          <li>
            <StandingMark standing="unproven" /> something is unproven
          </li>
          <li>
            <StandingMark standing="good" /> all in order
          </li>
        </ul>
      </div>
      <div>
        <Parts places={chosen ? [chosen] : places} />
        <div class="row wrap rig-do">
          <button type="button" class="quiet writes" onClick={() => openForm({ kind: 'fit' })}>
            Add a part
          </button>
          <a class="button quiet writes" href={linkTo('walk')}>
            Walk round
          </a>
          <SheetLink sheet="labels" text="Print labels for the parts" />
        </div>
      </div>
    </div>
  );
}

/** What is looked for stays while a part is opened and left again. */
const words = signal('');
const standing = signal<Standing | ''>('');

/** So many parts are looked over without a search. */
const FEW = 20;

function Parts({ places }: { readonly places: readonly Place[] }) {
  useMemo(() => {
    if (!comeBackTo()) words.value = standing.value = '';
  }, []);
  const all = places.flatMap((place) => place.parts);
  const wanted = words.value.toLowerCase().split(/\s+/);
  const shown = places
    .map((place) => ({ place, parts: place.parts.filter((part) => isWanted(part, place, wanted, standing.value)) }))
    .filter(({ parts }) => parts.length > 0);
  const count = shown.reduce((sum, { parts }) => sum + parts.length, 0);
  return (
    <>
      {all.length > FEW && <FindParts all={all.length} count={count} />}
      {shown.map(({ place, parts }) => (
        <section key={place.id} aria-labelledby={`place-${place.id}`}>
          <h2 id={`place-${place.id}`}>
            {capital(place.name)} <span class="soft">{statusText(place)}</span>
          </h2>
          {roomsOf(parts, place.name).map(([room, members]) => (
            <div key={room} class="room">
              {room !== '' && <h3>{capital(room)}</h3>}
              <ul class="plain">
                {members.map((part) => (
                  <PartRow key={part.id} part={part} at={room || place.name} />
                ))}
              </ul>
            </div>
          ))}
        </section>
      ))}
    </>
  );
}

function FindParts({ all, count }: { readonly all: number; readonly count: number }) {
  return (
    <div class="rig-find">
      <FindWords words={words} example="battery, axle 2, 2019" />
      <label>
        <span class="sr">How it stands</span>
        <select
          value={standing.value}
          onChange={(event) => (standing.value = event.currentTarget.value as Standing | '')}
        >
          <option value="">However it stands</option>
          <option value="out">Something has run out</option>
          <option value="unproven">Something is unproven</option>
          <option value="good">All in order</option>
        </select>
      </label>
      <p class="soft" role="status">
        {count === all ? '' : count === 0 ? 'No part is like that.' : `${count} of ${all} parts`}
      </p>
    </div>
  );
}

function isWanted(part: PartLine, place: Place, wanted: readonly string[], as: Standing | ''): boolean {
  if (as !== '' && part.standing !== as) return false;
  const text =
    `${part.name} ${part.place} ${place.name} ${part.group} ${part.id} ${part.made} ${part.reading}`.toLowerCase();
  return wanted.every((word) => text.includes(word));
}

/** So many parts at one place are told room by room. */
const CROWD = 24;

/** Parts by the first word of where they are (`kitchen` of `kitchen, drawer 3`), where a place holds a crowd. */
function roomsOf(parts: readonly PartLine[], place: string): [string, PartLine[]][] {
  if (parts.length <= CROWD) return [['', [...parts]]];
  const rooms = new Map<string, PartLine[]>();
  for (const part of parts) {
    const room = part.place.split(',')[0]!;
    const key = room === place ? '' : room;
    rooms.set(key, [...(rooms.get(key) ?? []), part]);
  }
  return [...rooms].sort(([a], [b]) => (a < b ? -1 : 1));
}

function PartRow({ part, at }: { readonly part: PartLine; readonly at: string }) {
  const where =
    part.place === at ? '' : part.place.startsWith(`${at}, `) ? part.place.slice(at.length + 2) : part.place;
  const more = [where, part.reading, part.made === '' ? '' : `made ${part.made}`].filter((text) => text !== '');
  return (
    <li>
      <a class="part-row" href={linkTo('rig', part.id)}>
        <StandingMark standing={part.standing} />
        <span>{part.name}</span>
        <span class="soft">{more.join(', ')}</span>
      </a>
    </li>
  );
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
