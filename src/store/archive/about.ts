import { z } from 'zod';

/** What stands in an archive's `about.json`: what it holds, and by which sums that is known again. */
export const aboutSchema = z.object({
  format: z.literal('rigworthy-archive'),
  version: z.literal(1),
  rig: z.string(),
  madeAt: z.string(),
  entries: z.number().int().nonnegative(),
  /** SHA-256 of `logbook.jsonl`. */
  logbook: z.string(),
  /** `kept`: photos as they were handed in. `left out`: the same pictures without where they were taken. */
  places: z.enum(['kept', 'left out']),
  photos: z.array(
    z.object({
      /** Under which the logbook speaks of it: SHA-256 of what was handed in. */
      hash: z.string().regex(/^[0-9a-f]{64}$/),
      type: z.string(),
      file: z.string(),
      /** SHA-256 of what is in this archive. */
      sha256: z.string(),
    }),
  ),
  /** Photos that are not in it, and why. */
  withheld: z.array(z.object({ hash: z.string(), why: z.string() })),
});
export type About = z.infer<typeof aboutSchema>;

export const ABOUT_FILE = 'about.json';
export const LOGBOOK_FILE = 'logbook.jsonl';
/** The only other names there are: nothing in an archive says where it is unpacked to. */
export const PHOTO_FILE = /^photos\/[0-9a-f]{64}\.[a-z0-9]{1,5}$/;
