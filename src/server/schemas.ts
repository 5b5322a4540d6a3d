import { z } from 'zod';
import { entrySchema } from '../logbook/index.ts';

/** What a rig is called in addresses. */
export const rigName = z
  .string()
  .max(60)
  .regex(/^[a-z0-9]+(-[a-z0-9]+)*$/, 'expected small letters, digits and single hyphens');
export const rigParams = z.strictObject({ rig: rigName });
export const cursor = z
  .string()
  .max(40)
  .meta({ description: 'Where a reader stands; opaque. Pass the one of the last answer.' });

export const problem = z
  .object({
    code: z.string().meta({ description: 'Stable; to switch on.' }),
    what: z.string(),
    where: z.string().optional(),
    expected: z.string().optional(),
    next: z.string().optional(),
  })
  .meta({ id: 'Problem' });

export const problemDetailsSchema = z
  .object({
    type: z.string(),
    title: z.string(),
    status: z.number().int(),
    detail: z.string(),
    code: z.string(),
    problems: z.array(problem),
  })
  .meta({ id: 'ProblemDetails', description: 'Problem details (RFC 9457).' });

export const entry = entrySchema.register(z.globalRegistry, {
  id: 'Entry',
  description: 'One line of a rig’s logbook.',
});
export const stored = z.object({ seq: z.number().int(), via: z.string(), entry }).meta({ id: 'StoredEntry' });
/** What a newer version of the program wrote: only its id and its rig are known here. */
export const storedRecord = z
  .object({ seq: z.number().int(), via: z.string(), entry: z.looseObject({ id: z.string(), rig: rigName }) })
  .meta({ id: 'StoredRecord', description: 'An entry of a newer version of the program, as it came.' });
