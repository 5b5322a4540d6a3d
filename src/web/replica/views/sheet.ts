import { fail, ok, type Result, unwrap } from '../../../problem/index.ts';
import {
  canonicalLogbook,
  historySheet,
  labelSheet,
  roadsideSheet,
  seasonSheet,
  sendOffSheet,
  sheetContext,
  styleOf,
  yardSheet,
} from '../../../sheets/index.ts';
import type { Keeper } from '../keeper.ts';
import { planOf } from './planned.ts';

export interface SheetAsk {
  readonly sheet: string;
  /** Which yard day, which trip; the next one where nothing is said. */
  readonly of: string | null;
  /** Where the app is found: what the square codes on labels lead to. */
  readonly address: string;
}

/** A document and its style apart: our pages' policy forbids a style element, also in a document that is only read. */
export interface SheetView {
  readonly html: string;
  readonly style: string;
}

export async function sheetView(keeper: Keeper, ask: SheetAsk): Promise<Result<SheetView>> {
  const made = await sheetHtml(keeper, ask);
  if (!made.ok) return made;
  const style = styleOf(made.value);
  return ok({ html: made.value.replace(`<style>${style}</style>`, ''), style });
}

/** A sheet as a whole document, made here: the same as the server and the terminal make. */
async function sheetHtml(keeper: Keeper, { sheet, of, address }: SheetAsk): Promise<Result<string>> {
  const desk = keeper.desk();
  const context = sheetContext(desk, await sha256(canonicalLogbook(desk.state)));
  switch (sheet) {
    case 'season':
      return ok(seasonSheet(context, unwrap(planOf(keeper))));
    case 'yard': {
      const plan = unwrap(planOf(keeper));
      const date = of ?? plan.days[0]?.date;
      if (date !== undefined && plan.days.some((day) => day.date === date)) return ok(yardSheet(context, plan, date));
      return fail({
        code: 'sheet.no-yard-day',
        what: date === undefined ? 'No yard day is planned' : `No work is planned for ${date}`,
        expected: plan.days.map((day) => day.date).join(', ') || 'a plan with a yard day',
        next: 'Look at the season: the work may have moved to another day.',
      });
    }
    case 'send-off':
      return ok(sendOffSheet(context, unwrap(desk.sendoff(of ?? undefined)), unwrap(planOf(keeper))));
    case 'roadside':
      return ok(roadsideSheet(context));
    case 'history':
      return ok(historySheet(context));
    case 'labels':
      return ok(labelSheet(context, address));
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
