import { linkTo } from './route.ts';

/** A way to a sheet to print or to carry; `of` says which yard day or trip. */
export function SheetLink({
  sheet,
  text,
  of,
}: {
  readonly sheet: string;
  readonly text: string;
  readonly of?: string;
}) {
  return (
    <a class="sheet-link" href={linkTo('sheet', sheet, ...(of === undefined ? [] : [of]))}>
      {text}
    </a>
  );
}
