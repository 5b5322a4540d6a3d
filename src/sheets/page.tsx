import type { ComponentChildren } from 'preact';
import { render } from 'preact-render-to-string';
import { pageRule, SHEET_CSS } from './css.ts';

/** The style of a sheet as `page` wrote it: what a policy must let through, or a page that shows it applies itself. */
export function styleOf(html: string): string {
  return /<style>([\s\S]*?)<\/style>/.exec(html)?.[1] ?? '';
}

/** What every sheet says about itself. */
export interface Masthead {
  readonly title: string;
  /** Name of the rig, and the day it speaks of. */
  readonly rig: string;
  readonly on: string;
  /** What it rests on: said at its end. */
  readonly foot: string;
  /** The logbook it was made from, in short: said at the foot of every page. */
  readonly mark: string;
  /** Read at arm's length, hands full; or closely, being long. */
  readonly size?: 'arm' | 'fine';
}

/** A whole document: what is printed, and nothing that needs a network. */
export function page({ title, rig, on, foot, mark, size }: Masthead, body: ComponentChildren): string {
  const document = (
    <html lang="en">
      <head>
        <meta charset="utf-8" />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <title>{`${title} · ${rig}`}</title>
        <style dangerouslySetInnerHTML={{ __html: `${pageRule(`${rig} · ${on} · ${mark}`)}${SHEET_CSS}` }} />
      </head>
      <body class={size}>
        <header>
          <h1>{title}</h1>
          <p>
            {rig}
            <br />
            {on}
          </p>
        </header>
        <main>{body}</main>
        <footer>{foot}</footer>
      </body>
    </html>
  );
  return `<!doctype html>\n${render(document)}\n`;
}

/** A box to tick. */
export const Box = () => <span class="box" />;
/** A line of a list to tick off. */
export const Tick = ({ children }: { readonly children: ComponentChildren }) => (
  <p class="tick">
    <Box />
    {children}
  </p>
);
/** A line across the page to write on. */
export const Line = ({ label }: { readonly label: string }) => (
  <p class="write">
    <span class="soft">{label}</span>
    <i />
  </p>
);
/** A line to write on. */
export const Blank = () => <span class="blank">&nbsp;</span>;

export function Cautions({ texts }: { readonly texts: readonly string[] }) {
  if (texts.length === 0) return null;
  return (
    <div class="caution">
      <b>Take care.</b>
      {[...new Set(texts)].map((text, i) => (
        <span key={text}>
          {i > 0 ? ' ' : ''}
          {text}
        </span>
      ))}
    </div>
  );
}

export function List({ items }: { readonly items: readonly string[] }) {
  return items.length ? (
    <ul>
      {items.map((item) => (
        <li key={item}>{item}</li>
      ))}
    </ul>
  ) : null;
}

/** `2 h 40`, never broken over two lines. */
export const hours = (minutes: number): string =>
  minutes < 60
    ? `${minutes}\u00a0min`
    : `${Math.floor(minutes / 60)}\u00a0h\u00a0${String(minutes % 60).padStart(2, '0')}`;

/** Sentences as running text: each ends with a full stop. */
export const sentences = (texts: readonly string[]): string =>
  texts.map((text) => (/[.!?]$/.test(text) ? text : `${text}.`)).join(' ');

/** Things with the places they stand for, the same thing said once: `Adjust the drum brakes (axle 1, left; axle 1, right)`. */
export function gathered(things: readonly { readonly title: string; readonly place: string }[]): string[] {
  const places = new Map<string, string[]>();
  for (const { title, place } of things) places.set(title, [...(places.get(title) ?? []), ...(place ? [place] : [])]);
  return [...places].map(([title, where]) => (where.length ? `${title} (${where.join('; ')})` : title));
}
