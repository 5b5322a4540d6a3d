import './rig.css';
import { type Place, placesOf } from '../drawings/places.ts';
import { RigAbove, statusText } from '../drawings/rig-above.tsx';
import { RigSide } from '../drawings/rig-side.tsx';
import { useAnswer } from '../replica/client.ts';
import type { PartLine, RigView } from '../replica/views/rig.ts';
import { openForm } from '../shell/form.tsx';
import { StandingMark } from '../shell/marks.tsx';
import { Problems } from '../shell/problems.tsx';
import { linkTo, route } from '../shell/route.ts';
import { SheetLink } from '../shell/sheet-link.tsx';
import { Title } from '../shell/title.tsx';
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
        {problems.length > 0 ? <Problems problems={problems} /> : <p class="soft">Working it out …</p>}
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
          `${answer.odometer}. ${answer.parts.length} parts at ${places.length} places.`
        )}
      </p>
      {answer.parts.length === 0 ? <Empty /> : <Drawn view={answer} places={places} chosen={chosen} />}
    </>
  );
}

function Empty() {
  return (
    <p class="lead-in">
      No part is on record yet.{' '}
      <span class="writes">
        <a href={linkTo('walk')}>Begin the walk-round</a>: it leads from place to place.
      </span>
    </p>
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
        {(chosen ? [chosen] : places).map((place) => (
          <section key={place.id} aria-labelledby={`place-${place.id}`}>
            <h2 id={`place-${place.id}`}>
              {capital(place.name)} <span class="soft">{statusText(place)}</span>
            </h2>
            <ul class="plain">
              {place.parts.map((part) => (
                <PartRow key={part.id} part={part} at={place.name} />
              ))}
            </ul>
          </section>
        ))}
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

function PartRow({ part, at }: { readonly part: PartLine; readonly at: string }) {
  const more = [part.place === at ? '' : part.place, part.reading, part.made === '' ? '' : `made ${part.made}`].filter(
    (text) => text !== '',
  );
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
