import { useEffect, useRef } from 'preact/hooks';
import { useAnswer } from '../replica/client.ts';
import { Problems } from '../shell/problems.tsx';
import { linkTo, route } from '../shell/route.ts';
import { Title } from '../shell/title.tsx';
import './sheet.css';

const SHEETS = [
  {
    id: 'send-off',
    name: 'Send-off sheet',
    text: 'The judgement on the next trip, what lifts it, and the limits to keep to.',
  },
  {
    id: 'yard',
    name: 'Yard sheet',
    text: 'The next yard day: what to gather, the jobs in working order, boxes to fill.',
  },
  { id: 'season', name: 'Season sheet', text: 'Trips and yard days in order, and when the rest runs out.' },
  { id: 'roadside', name: 'Roadside sheet', text: 'Every mishap this rig can have, for the glove box.' },
  { id: 'history', name: 'History sheet', text: 'What is on the rig and every entry, for a buyer or an insurer.' },
  { id: 'labels', name: 'Labels for parts', text: 'Square codes to cut out: each opens its part on a phone.' },
] as const;

/** Names under which a machine calls itself. */
const LOOPBACK = /^(127\.|localhost$|\[::1\]$)/;

/** Sheets, made on this device and shown as they will be on paper. */
export function Sheet() {
  const [id, of] = route.value.rest;
  if (id === undefined) return <All />;
  return <One key={`${id} ${of}`} id={id} of={of ?? null} />;
}

function All() {
  return (
    <div class="sheets-all">
      <Title>Sheets to print or carry</Title>
      <p class="soft lead-in">Made on this device, for grey paper. None of them needs a network.</p>
      <ul class="plain">
        {SHEETS.map(({ id, name, text }) => (
          <li key={id}>
            <a href={linkTo('sheet', id)}>
              <b>{name}</b>
              <span class="soft">{text}</span>
            </a>
          </li>
        ))}
      </ul>
    </div>
  );
}

function One({ id, of }: { readonly id: string; readonly of: string | null }) {
  const { answer, problems, working } = useAnswer('sheet', { sheet: id, of, address: location.origin });
  const name = SHEETS.find((one) => one.id === id)?.name ?? 'Sheet';
  return (
    <div class="sheet-page">
      <div class="sheet-bar">
        <Title aria-busy={answer === null && problems.length === 0}>{name}</Title>
        <span class="row">
          <a class="button quiet" href={linkTo('sheet')}>
            All sheets
          </a>
          <button type="button" disabled={answer === null} onClick={() => print()}>
            Print
          </button>
        </span>
      </div>
      {id === 'labels' && LOOPBACK.test(location.hostname) && (
        <p class="soft sheet-note">
          These codes lead to {location.origin}, which only this machine can open. Print them from the address under
          which your phone opens Rigworthy.
        </p>
      )}
      {problems.length > 0 && <Problems problems={problems} />}
      {answer === null && problems.length === 0 && <p class="soft">Drawing it up …</p>}
      {answer !== null && <Paper html={answer.html} style={answer.style} stale={working} />}
    </div>
  );
}

/**
 * The document inside a tree of its own, so that neither style reaches the other. The policy of our pages forbids a style element;
 * a style sheet that a script makes is none.
 */
function Paper(props: { readonly html: string; readonly style: string; readonly stale: boolean }) {
  const { html, style, stale } = props;
  const host = useRef<HTMLElement>(null);
  useEffect(() => {
    const element = host.current!;
    // A wide sheet scrolls, and must do so by keyboard too.
    element.tabIndex = 0;
    const tree = element.shadowRoot ?? element.attachShadow({ mode: 'open' });
    const made = new DOMParser().parseFromString(html, 'text/html');
    const inks = new CSSStyleSheet();
    inks.replaceSync(style);
    tree.adoptedStyleSheets = [inks];
    // The paper's margins and the foot of its pages are the document's own; inside a tree they say nothing.
    const paper = new CSSStyleSheet();
    paper.replaceSync(
      [...inks.cssRules].flatMap((rule) => (rule instanceof CSSPageRule ? [rule.cssText] : [])).join(''),
    );
    document.adoptedStyleSheets = [...document.adoptedStyleSheets, paper];
    tree.replaceChildren(document.adoptNode(made.body));
    const before = document.title;
    // What a browser offers as the name of the printed file.
    document.title = made.title;
    return () => {
      document.title = before;
      document.adoptedStyleSheets = document.adoptedStyleSheets.filter((sheet) => sheet !== paper);
    };
  }, [html, style]);
  return <section ref={host} class={stale ? 'paper working' : 'paper'} aria-label="The sheet as printed" />;
}
