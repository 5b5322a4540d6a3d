/** `log "spare 41 psi, 12 C"`: a short sentence, understood, shown, and written when that is confirmed. */
import type { Command } from 'commander';
import { understand } from '../../logbook/index.ts';
import { refuse, withRig } from '../answer.ts';
import { ownCatalog } from '../catalog.ts';
import type { Io } from '../io.ts';
import { type WriteOptions, writeDown, writeOptions, writerOf } from '../writing.ts';
import { type Done, rigCommand } from './options.ts';
import { newestEntry, strikeOf } from './strike.ts';

/** `strike that - misread the gauge` */
const STRIKE_THAT = /^strike (?:that|the last(?: one| entry)?)(?:\s+[-–—]\s+(.+))?$/i;

async function log(sentence: string, options: WriteOptions, io: Io): Promise<number> {
  return withRig(options, io, async (rig) => {
    const strike = STRIKE_THAT.exec(sentence.trim());
    if (strike) {
      const struck = strikeOf(newestEntry(rig)?.id, strike[1], rig);
      return struck.ok ? writeDown(struck.value, rig, options, io) : refuse(io, struck.problems, options.json);
    }
    const by = writerOf(options, io);
    const read = understand(sentence, { state: rig.whole, catalog: ownCatalog(rig), today: rig.now, by });
    return read.ok ? writeDown(read.value, rig, options, io) : refuse(io, read.problems, options.json);
  });
}

/** `rigworthy log SENTENCE …` */
export function addLog(program: Command, io: Io, done: Done): void {
  writeOptions(
    rigCommand(program, 'log').description(
      'write down a short sentence, such as "spare 41 psi, 12 C" or "repacked axle 2 at 64,120"',
    ),
  )
    .argument('<sentence...>', 'what was done or read')
    .action((words: string[], options: WriteOptions) => done(log(words.join(' '), options, io)));
}
