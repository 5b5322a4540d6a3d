/** The edge of the program: the real terminal, clock and environment. Built into dist/cli/rigworthy.js. */
import { existsSync } from 'node:fs';
import { homedir } from 'node:os';
import { createInterface } from 'node:readline/promises';
import { Writable } from 'node:stream';
import { text } from 'node:stream/consumers';
import { fileURLToPath } from 'node:url';
import type { Io } from './io.ts';
import { main } from './main.ts';

/** A plain date where this machine is. */
function localDate(ms: number): string {
  const date = new Date(ms);
  const two = (value: number): string => String(value).padStart(2, '0');
  return `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}`;
}

/** Takes what is written to it, and shows it nowhere. */
const nowhere = (): Writable => new Writable({ write: (_chunk, _encoding, done) => done() });

async function ask(question: string, hidden = false): Promise<string> {
  if (hidden) process.stderr.write(question);
  const lines = createInterface({
    input: process.stdin,
    output: hidden ? nowhere() : process.stderr,
    // The terminal then shows nothing by itself: only the output above does.
    terminal: true,
  });
  try {
    return await lines.question(hidden ? '' : question);
  } finally {
    lines.close();
    if (hidden) process.stderr.write('\n');
  }
}

const web = fileURLToPath(new URL('../web/', import.meta.url));

const io: Io = {
  out: (words) => void process.stdout.write(words),
  err: (words) => void process.stderr.write(words),
  input: () => text(process.stdin),
  ask: process.stdin.isTTY && process.stderr.isTTY ? ask : undefined,
  env: process.env,
  home: homedir(),
  today: () => localDate(Date.now()),
  clock: () => Date.now(),
  random: () => Math.random(),
  ended: () =>
    new Promise((settle) => {
      for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, () => settle());
    }),
  webFolder: existsSync(`${web}index.html`) ? web : undefined,
};

// A reader that has seen enough (`| head`) is no failure.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
  process.exit(0);
});

// Not awaited here: parts of the program that are read later import this file, and would wait for its end while it waits for them.
main(process.argv.slice(2), io).then(
  (code) => {
    process.exitCode = code;
  },
  (error: unknown) => {
    process.exitCode = 70;
    console.error(error);
  },
);
