/** `export FILE.zip`: logbook and photos, to be handed on. */
import { constants, copyFile } from 'node:fs/promises';
import type { Problem } from '../../problem/index.ts';
import { makeArchive } from '../../store/index.ts';
import { ANSWERED, refuse, writeJson } from '../answer.ts';
import type { Io } from '../io.ts';
import type { OpenRig, RigOptions } from '../keeping.ts';

export interface ExportArchiveOptions extends RigOptions {
  readonly force?: boolean;
  readonly withPlaces?: boolean;
}

export async function exportArchive(
  { store, rig }: OpenRig,
  file: string,
  options: ExportArchiveOptions,
  io: Io,
): Promise<number> {
  const withPlaces = options.withPlaces === true;
  const made = await makeArchive(store, { rig, withPlaces, now: io.clock() });
  try {
    await copyFile(made.file, file, options.force ? 0 : constants.COPYFILE_EXCL);
  } catch (error) {
    return refuse(io, [unwritten(error as NodeJS.ErrnoException, file)], options.json);
  } finally {
    await made.remove();
  }
  const { entries, photos, withheld } = made.about;
  if (options.json) {
    writeJson(io, { file, rig, entries, photos: photos.length, places: withPlaces, withheld });
    return ANSWERED;
  }
  io.out(`${entries} entries and ${photos.length} photos and papers of ${rig} are in ${file}.\n`);
  if (!withPlaces) {
    io.out(
      'Where the photos were taken is not in it. For a copy of your own that comes back in whole, add --with-places.\n',
    );
  }
  for (const { hash, why } of withheld) io.err(`Not in it: ${hash}. ${why}.\n`);
  return ANSWERED;
}

function unwritten(error: NodeJS.ErrnoException, file: string): Problem {
  const exists = error.code === 'EEXIST';
  return {
    code: exists ? 'cli.file-there' : 'cli.file-unwritable',
    what: exists ? 'The file is there already' : `The file cannot be written: ${error.message}`,
    where: file,
    next: exists ? 'Name another, or replace it with --force.' : 'Name another.',
  };
}
