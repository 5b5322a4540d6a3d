import { frame } from '../replica/client.ts';

/** A way to a sheet that the server makes, to print or to carry; the same day as on this page. */
export function SheetLink({
  sheet,
  text,
  about = {},
}: {
  readonly sheet: string;
  readonly text: string;
  readonly about?: Readonly<Record<string, string>>;
}) {
  const now = frame.value;
  if (!now?.rig || !now.reached) return null;
  const query = new URLSearchParams({ now: now.today, ...about });
  return (
    <a class="sheet-link" href={`/api/rigs/${now.rig}/sheets/${sheet}?${query}`} target="_blank" rel="noopener">
      {text}
    </a>
  );
}
