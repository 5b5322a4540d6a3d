/** What a verification found, for a person. */
import { formatDate } from '../dates/index.ts';
import type { Entry } from '../logbook/index.ts';
import { fingerprint } from './statement.ts';
import { type Finding, headCode, type Verification } from './verify.ts';

/** Findings of one kind told one by one. */
const SHOWN_MAX = 20;

/** `wrong` contradicts a signature, `doubt` is a question to the owner, `plain` tells what it rests on. */
export interface VerificationLine {
  readonly kind: 'wrong' | 'doubt' | 'plain' | 'verdict';
  readonly text: string;
}

const counted = (count: number, one: string, many: string): string =>
  `${count.toLocaleString('en-US')} ${count === 1 ? one : many}`;
const day = (instant: string): string => formatDate(instant.slice(0, 10));

function findingText({ code, device, entry, number }: Finding, nameOf: (device: string) => string): string {
  const who = nameOf(device);
  switch (code) {
    case 'rewritten':
      return `Entry ${entry} is not what ${who} signed.`;
    case 'missing':
      return `Entry ${entry} is gone; ${who} signed that it held it.`;
    case 'signature':
      return `Statement ${number} of ${who} (${entry}) does not bear its signature: it was changed or forged.`;
    case 'gap':
      return `Statement ${number} of ${who} follows one that is missing.`;
    case 'cut-off':
      return `Statement ${number} of ${who} is known elsewhere and missing here.`;
    case 'after-end':
      return `Statement ${number} of ${who} was signed after its key had ended; it does not count.`;
  }
}

/** At most so many, and how many more there are. */
function some(lines: readonly VerificationLine[]): VerificationLine[] {
  const [first] = lines;
  const rest = lines.length - SHOWN_MAX;
  return first && rest > 0
    ? [...lines.slice(0, SHOWN_MAX), { ...first, text: `… and ${rest.toLocaleString('en-US')} more.` }]
    : [...lines];
}

/** The whole report, worst first, the verdict last. */
export function verificationLines(found: Verification, entries: readonly Entry[]): VerificationLine[] {
  const names = new Map(found.devices.map(({ device, name }) => [device, `${name} (${fingerprint(device)})`]));
  const nameOf = (device: string): string => names.get(device) ?? `the device ${device.slice(0, 16)}`;
  const own = entries.filter((entry) => entry.kind !== 'witness').length;
  const byTwo = [...found.witnessed.values()].filter(({ devices }) => devices > 1).length;
  const wrong = found.findings.map((one) => ({ kind: 'wrong', text: findingText(one, nameOf) }) as const);
  const forks = found.forks.map(
    ({ device, number }) =>
      ({
        kind: 'doubt',
        text: `${nameOf(device)} made statement ${number} more than once: two programs signed at once, or its key or its files were copied.`,
      }) as const,
  );
  const late = found.late.map(
    ({ entry, at, first }) =>
      ({
        kind: 'doubt',
        text: `Entry ${entry} says it was written on ${day(at)}; a device first signed it on ${day(first)}.`,
      }) as const,
  );
  const devices = found.devices.map(
    (one) =>
      ({
        kind: 'plain',
        text: `${nameOf(one.device)}: ${counted(one.statements, 'statement', 'statements')}, ${day(one.first)} to ${day(one.last)}${one.ended ? ', key ended' : ''}; last ${headCode(one.head)}`,
      }) as const,
  );
  const signed = `${counted(own, 'entry', 'entries')}: ${found.witnessed.size.toLocaleString('en-US')} signed, ${byTwo.toLocaleString('en-US')} of them by two devices or more.`;
  const open = counted(found.unwitnessed.length, 'entry', 'entries');
  return [
    ...some(wrong),
    ...forks,
    ...some(late),
    ...devices,
    { kind: 'plain', text: signed },
    ...(found.unwitnessed.length > 0
      ? [{ kind: 'plain', text: `Not yet witnessed: ${open}. No signature says anything about them.` } as const]
      : []),
    { kind: 'verdict', text: verdict(found) },
  ];
}

function verdict({ findings, devices }: Verification): string {
  if (findings.length > 0) return 'This logbook is NOT what the devices signed; see above.';
  if (devices.length === 0) return 'No device has signed this logbook: nothing is proven, and nothing is wrong.';
  return 'Nothing contradicts the signatures. They do not prove that what was written is true.';
}
