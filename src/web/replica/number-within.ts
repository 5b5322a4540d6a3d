import { fail, ok, type Result } from '../../problem/index.ts';

/** A number within bounds, thousands perhaps set off by commas. Problems: `web.figure`, at `where`. */
export function numberWithin(text: string, least: number, most: number, unit = '', where?: string): Result<number> {
  const value = Number(text.replaceAll(',', ''));
  if (text.trim() !== '' && value >= least && value <= most) return ok(value);
  return fail({
    code: 'web.figure',
    what: text.trim() === '' ? 'Nothing is filled in' : `“${text}” does not fit`,
    expected: `a number from ${least} to ${most}${unit === '' ? '' : ` ${unit}`}`,
    ...(where === undefined ? {} : { where }),
  });
}
