import type { Look } from '../outlook/index.ts';

/** Where an upkeep belongs in a plan. */
export type Belongs = 'yard day' | 'leaving' | 'routine' | 'on the way' | 'nowhere';

/** Work that comes round more often than this is no matter for yard days, which lie weeks apart. */
const ROUTINE_DAYS = 45;

/**
 * - `on the way`: a follow-up, at its mile;
 * - `leaving`: asked for before each departure, and so kept by leaving;
 * - `routine`: comes round within weeks, at home or on the road (press the alarms, walk round in storage);
 * - `nowhere`: no such part on record: there is nothing to work on before somebody looks;
 * - `yard day`: everything else.
 */
export function belongs(look: Look): Belongs {
  if (!look.part) return 'nowhere';
  if (look.item.follows) return 'on the way';
  if (look.upkeep.clocks.some((clock) => clock.kind === 'departure')) return 'leaving';
  const often = look.upkeep.clocks.some((clock) => clock.kind !== 'after') && look.intervalDays < ROUTINE_DAYS;
  return often ? 'routine' : 'yard day';
}
