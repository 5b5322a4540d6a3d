import { formatDate } from '../../dates/index.ts';
import type { Shown } from './frame.ts';
import { type Line, standingBy } from './line.ts';

interface Session {
  readonly kind: string;
  readonly link: { readonly by: string; readonly made: string; readonly expires: string } | null;
}

/** Whose rig the share link shows, and for how long; `ended` where it shows none any more, null where the server cannot be reached. */
export async function askShown(line: Line): Promise<Shown | 'ended' | null> {
  try {
    const { link } = await line.json<Session>('/api/session');
    if (link === null) return 'ended';
    const day = (instant: string): string => formatDate(instant.slice(0, 10), 'day');
    return { by: link.by, since: day(link.made), until: day(link.expires) };
  } catch (error) {
    return standingBy(error) === 'signed-out' ? 'ended' : null;
  }
}
