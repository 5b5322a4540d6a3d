import { fail, type Result, unwrap } from '../../../problem/index.ts';
import {
  canonicalLogbook,
  historySheet,
  labelSheet,
  roadsideSheet,
  seasonSheet,
  sendOffSheet,
  sheetContext,
  yardSheet,
} from '../../../sheets/index.ts';
import type { Keeper } from '../keeper.ts';

export interface SheetAsk {
  readonly sheet: string;
  /** Which yard day, which trip; the next one where nothing is said. */
  readonly of: string | null;
  /** Where the app is found: what the square codes on labels lead to. */
  readonly address: string;
}

/** A sheet as a whole document, made here: the same as the server and the terminal make. */
export async function sheetHtml(keeper: Keeper, { sheet, of, address }: SheetAsk): Promise<Result<string>> {
  const desk = keeper.desk();
  const context = sheetContext(desk, await sha256(canonicalLogbook(desk.state)));
  const made = (html: string): Result<string> => ({ ok: true, value: html });
  switch (sheet) {
    case 'season':
      return made(seasonSheet(context, unwrap(keeper.plan())));
    case 'yard': {
      const plan = unwrap(keeper.plan());
      const date = of ?? plan.days[0]?.date;
      if (date !== undefined && plan.days.some((day) => day.date === date)) return made(yardSheet(context, plan, date));
      return fail({
        code: 'sheet.no-yard-day',
        what: date === undefined ? 'No yard day is planned' : `No work is planned for ${date}`,
        expected: plan.days.map((day) => day.date).join(', ') || 'a plan with a yard day',
        next: 'Look at the season: the work may have moved to another day.',
      });
    }
    case 'send-off':
      return made(sendOffSheet(context, unwrap(desk.sendoff(of ?? undefined)), unwrap(keeper.plan())));
    case 'roadside':
      return made(roadsideSheet(context));
    case 'history':
      return made(historySheet(context));
    case 'labels':
      return made(labelSheet(context, address));
    default:
      return fail({
        code: 'sheet.unknown',
        what: `There is no sheet called “${sheet}”`,
        expected: 'season, yard, send-off, roadside, history or labels',
      });
  }
}

async function sha256(text: string): Promise<string> {
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', new TextEncoder().encode(text)));
  return [...digest].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}
