import { useSignal } from '@preact/signals';
import './roadside.css';
import { useAnswer } from '../replica/client.ts';
import type { KitLine, MishapLine, MishapView, RoadsideView } from '../replica/views/roadside.ts';
import { openForm } from '../shell/form.ts';
import { NotYet } from '../shell/problems.tsx';
import { linkTo, route } from '../shell/route.ts';
import { SheetLink } from '../shell/sheet-link.tsx';
import { Title } from '../shell/title.tsx';

/** Roadside: by what is seen, heard or smelt; steps large enough for arm's length; this rig's own numbers. Needs no network. */
export function Roadside() {
  const [id] = route.value.rest;
  return id === undefined ? <Signs /> : <Mishap id={id} />;
}

function Signs() {
  const { answer, problems } = useAnswer('roadside', {});
  const words = useSignal('');
  if (!answer) {
    return (
      <>
        <Title>Roadside</Title>
        <NotYet problems={problems} doing="Opening …" />
      </>
    );
  }
  const wanted = words.value
    .toLowerCase()
    .split(/\s+/)
    .filter((word) => word !== '');
  const found = answer.mishaps.filter((one) =>
    wanted.every((word) => `${one.title} ${one.signs.join(' ')}`.toLowerCase().includes(word)),
  );
  return (
    <div class="roadside">
      <Title>What is wrong?</Title>
      <label class="find">
        <span class="sr">What you see, hear or smell</span>
        <input
          type="search"
          placeholder="flat, smell, jack, alarm …"
          value={words.value}
          onInput={(event) => (words.value = event.currentTarget.value)}
        />
      </label>
      <Calls calls={answer.calls} />
      <Mishaps
        title={
          wanted.length > 0 ? 'Found' : answer.bare ? 'What can happen on the road' : 'What can happen to this rig'
        }
        mishaps={answer.bare ? found : found.filter((one) => one.here)}
      />
      {!answer.bare && <Mishaps title="Not with the parts on record" mishaps={found.filter((one) => !one.here)} />}
      {found.length === 0 && <p>Nothing of the kind is in the book. Stop where it is safe, and call.</p>}
      <p class="lead-in">
        <SheetLink sheet="roadside" text="Print it all for the glove box" />
      </p>
    </div>
  );
}

function Mishaps({ title, mishaps }: { readonly title: string; readonly mishaps: readonly MishapLine[] }) {
  if (mishaps.length === 0) return null;
  return (
    <section aria-label={title}>
      <h2>{title}</h2>
      <ul class="plain mishaps">
        {mishaps.map((one) => (
          <li key={one.id}>
            <a href={linkTo('roadside', one.id)}>
              <b>{one.title}</b>
              <span class="soft">{one.signs.join('. ')}</span>
            </a>
          </li>
        ))}
      </ul>
    </section>
  );
}

function Calls({ calls }: { readonly calls: RoadsideView['calls'] }) {
  if (calls.length === 0) return null;
  return (
    <ul class="plain calls">
      {calls.map(({ name, number }) => (
        <li key={name}>
          <a class="button" href={`tel:${number.replace(/[^+\d]/g, '')}`}>
            {name}: {number}
          </a>
        </li>
      ))}
    </ul>
  );
}

function Mishap({ id }: { readonly id: string }) {
  const { answer, working } = useAnswer('mishap', { mishap: id });
  if (!answer) {
    return (
      <>
        <Title aria-busy={working}>{working ? 'Roadside' : 'That is not in the book'}</Title>
        <a href={linkTo('roadside')}>What is wrong?</a>
      </>
    );
  }
  return (
    <article class="roadside">
      <Title>{answer.title}</Title>
      <p class="soft lead-in">
        {answer.steps.length} steps. {answer.practised}{' '}
        <a class="sheet-link" href={linkTo('roadside')}>
          Something else
        </a>
      </p>
      <div class="roadside-columns">
        <div>
          {answer.firstMinute.length > 0 && (
            <div class="caution">
              <b>Before anything:</b> {answer.firstMinute.join(' ')}
            </div>
          )}
          {answer.cautions.map((caution) => (
            <p key={caution} class="own mind">
              {caution}
            </p>
          ))}
          <OnThisRig mishap={answer} />
          <ol class="steps">
            {answer.steps.map((step) => (
              <li key={step}>{step}</li>
            ))}
          </ol>
          {answer.doNotTowIf.length > 0 && (
            <div class="own do-not">
              <b>Do not tow if</b>
              <ul>
                {answer.doNotTowIf.map((one) => (
                  <li key={one}>{one}</li>
                ))}
              </ul>
            </div>
          )}
        </div>
        <Aside mishap={answer} />
      </div>
    </article>
  );
}

/** What the steps cannot do without, in this rig's own words, before the first of them. */
function OnThisRig({ mishap }: { readonly mishap: MishapView }) {
  if (mishap.needs.length === 0) return null;
  return (
    <dl class="own needs" aria-label="On this rig">
      {mishap.needs.map(({ name, value, known }) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd class={known ? '' : 'wrong'}>{value}</dd>
        </div>
      ))}
    </dl>
  );
}

function Aside({ mishap }: { readonly mishap: MishapView }) {
  return (
    <div>
      {mishap.own.length > 0 && (
        <section aria-labelledby="h-own">
          <h2 id="h-own">From the labels</h2>
          <table class="identity">
            <tbody>
              {mishap.own.map(({ name, value, known }) => (
                <tr key={`${name} ${value}`}>
                  <th scope="row">{name}</th>
                  <td class={known ? '' : 'wrong'}>{value}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </section>
      )}
      <KitTable title="Tools" lines={mishap.tools} />
      <KitTable title="Spares" lines={mishap.spares} />
      <section aria-labelledby="h-call">
        <h2 id="h-call">Call</h2>
        <ul class="call-whom">
          {mishap.call.map((one) => (
            <li key={one}>{one}</li>
          ))}
        </ul>
        <Calls calls={mishap.calls} />
        {mishap.calls.length === 0 && (
          <p class="soft">
            No number is on record.{' '}
            <a class="writes" href={linkTo('settings')}>
              Write down whom to call.
            </a>
          </p>
        )}
      </section>
      <section aria-labelledby="h-signs">
        <h2 id="h-signs">How it shows</h2>
        <ul class="call-whom">
          {mishap.signs.map((sign) => (
            <li key={sign}>{sign}</li>
          ))}
        </ul>
      </section>
      <p class="soft source">
        {Object.values(mishap.sources)
          .map((source) => `${source.title} (${source.kind})`)
          .join('; ')}
        . The makers’ handbooks come first.
      </p>
    </div>
  );
}

function KitTable({ title, lines }: { readonly title: string; readonly lines: readonly KitLine[] }) {
  if (lines.length === 0) return null;
  return (
    <section aria-label={title}>
      <h2>{title}</h2>
      <table>
        <tbody>
          {lines.map((line) => (
            <tr key={line.name}>
              <th scope="row">
                {line.name}
                {line.or !== '' && <small class="soft">or {line.or}</small>}
              </th>
              <td class="n">{line.aboard ? line.where : <b class="wrong">not aboard</b>}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {lines.some((line) => !line.aboard) && (
        <button type="button" class="quiet stow writes" onClick={() => openForm({ kind: 'carry' })}>
          Write what is aboard
        </button>
      )}
    </section>
  );
}
