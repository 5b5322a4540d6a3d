import type { PartLine, Standing } from '../replica/views/rig.ts';

/** A place on the rig, with what sits there. `spot` is where the drawing from above marks it; null: nowhere in particular. */
export interface Place {
  readonly id: string;
  readonly name: string;
  readonly parts: readonly PartLine[];
  readonly standing: Standing;
  readonly spot: Spot | null;
}

/** Across: −1 left edge of the body, 1 right edge. Along: 0 front wall, 1 rear wall; negative on the tongue, below −1 the tow vehicle. */
export interface Spot {
  readonly across: number;
  readonly along: number;
  readonly wheel?: boolean;
  readonly spare?: boolean;
}

const slug = (text: string): string =>
  text
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-|-$/g, '');
const ORDER: Readonly<Record<Standing, number>> = { out: 2, unproven: 1, good: 0 };

/** Where the middle of an axle lies along the body: axles sit close together behind the middle. */
export function axleAt(axle: number, axles: number): number {
  return 0.64 + (axle - (axles + 1) / 2) * 0.15;
}

/** Parts by the place they sit at; places of one corner told together. */
export function placesOf(parts: readonly PartLine[], rig: { readonly axles: number; readonly tow: string }): Place[] {
  const groups = new Map<string, PartLine[]>();
  for (const part of parts) {
    const name = corner(part, rig.tow);
    groups.set(name, [...(groups.get(name) ?? []), part]);
  }
  return [...groups]
    .map(([name, members]) => ({ name, members, spot: spotOf(name, members, rig) }))
    .sort((a, b) => rank(a.spot) - rank(b.spot))
    .map(({ name, members, spot }) => ({
      id: slug(name),
      name,
      parts: members,
      standing: members.map((part) => part.standing).sort((a, b) => ORDER[b] - ORDER[a])[0]!,
      spot,
    }));
}

const rank = (spot: Spot | null): number => spot?.along ?? 9;

function corner({ place, vehicle }: PartLine, tow: string): string {
  if (vehicle === 'tow' || (tow !== '' && place.includes(tow))) return tow || 'tow vehicle';
  if (place === '' || /^(whole|all )|four corners|underside|driveway/.test(place)) return 'whole trailer';
  if (/^tongue/.test(place)) return 'tongue';
  const axle = /^axle (\d)(, (left|right))?/.exec(place);
  if (axle) return axle[0];
  const [name] = place.split(',');
  return OUTSIDE.test(name!) ? name! : 'inside';
}

/** Where the body of a trailer has no walls to hide it. All else is inside, in rooms whose place nobody wrote down. */
const OUTSIDE = /^(left|right|front|rear|roof)/;

function spotOf(name: string, parts: readonly PartLine[], { axles, tow }: { axles: number; tow: string }): Spot | null {
  if (name === (tow || 'tow vehicle')) return { across: 0, along: -1.2 };
  if (name === 'whole trailer') return null;
  if (name === 'tongue') return { across: 0, along: -0.2 };
  const axle = /^axle (\d)(, (left|right))?$/.exec(name);
  if (axle) {
    if (axle[3] === undefined) return null;
    const along = axleAt(Number(axle[1]), axles);
    return { across: axle[3] === 'left' ? -1.12 : 1.12, along, wheel: true };
  }
  if (/^left/.test(name)) return { across: -0.98, along: 0.3 };
  if (/^right/.test(name)) return { across: 0.98, along: 0.3 };
  if (/^roof/.test(name)) return { across: 0, along: 0.14 };
  if (/^front/.test(name)) return { across: -0.5, along: 0.05 };
  if (/bumper/.test(name)) return { across: 0, along: 1.03, spare: parts.some((part) => /spare/i.test(part.name)) };
  if (/^rear/.test(name)) return { across: 0.5, along: 0.94 };
  return { across: 0, along: 0.36 };
}
