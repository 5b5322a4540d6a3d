import { linkTo } from '../shell/route.ts';
import { axleAt, type Place, type Spot } from './places.ts';

const BODY = { width: 108, top: 176, height: 330 };
const ROW = 40;

interface Mark {
  readonly place: Place;
  readonly x: number;
  readonly y: number;
  readonly left: boolean;
  readonly at: number;
}

/** The rig from above: the outline from its axles, a mark at every place, and each place's name beside it as a way in. */
export function RigAbove(props: {
  readonly width: number;
  readonly places: readonly Place[];
  readonly axles: number;
  readonly tow: string;
  readonly trailer: string;
}) {
  const middle = props.width / 2;
  const marks = marksOf(props.places, middle);
  const height = Math.max(BODY.top + BODY.height + 46, ...marks.map((mark) => mark.at + 24));
  const left = middle - BODY.width / 2;
  const right = middle + BODY.width / 2;
  return (
    <svg
      class="rig-above"
      viewBox={`0 0 ${props.width} ${height}`}
      width={props.width}
      height={height}
      aria-label={`${props.trailer} from above, ${props.axles} axles, behind ${props.tow}`}
    >
      <rect x={middle - 46} y="6" width="92" height="98" rx="13" />
      <path d={`M${middle - 34} 34 H${middle + 34}`} class="thin" />
      <path d={`M${middle} 104 V118`} />
      <circle cx={middle} cy="122" r="5" />
      <path d={`M${middle} 127 L${left + 14} ${BODY.top} M${middle} 127 L${right - 14} ${BODY.top}`} />
      <rect x={left} y={BODY.top} width={BODY.width} height={BODY.height} rx="18" />
      {Array.from({ length: props.axles }, (_, index) => {
        const y = BODY.top + axleAt(index + 1, props.axles) * BODY.height;
        return (
          <g key={index} class="axle">
            <path d={`M${left} ${y} H${right}`} class="thin" />
            <rect x={left - 13} y={y - 20} width="15" height="40" rx="4" />
            <rect x={right - 2} y={y - 20} width="15" height="40" rx="4" />
          </g>
        );
      })}
      {marks.map((mark) => (
        <PlaceMark key={mark.place.id} mark={mark} width={props.width} />
      ))}
    </svg>
  );
}

function PlaceMark({ mark, width }: { readonly mark: Mark; readonly width: number }) {
  const { place, x, y, left, at } = mark;
  const edge = left ? 0 : width;
  const lead = left ? Math.min(104, x - 14) : Math.max(width - 104, x + 14);
  return (
    <a href={linkTo('rig', 'at', place.id)} aria-label={`${place.name}: ${statusText(place)}`}>
      <rect class="touch" x={left ? 0 : width - 112} y={at - 22} width="112" height={ROW + 4} />
      <path class="lead" d={`M${x} ${y} L${lead} ${at - 4} H${left ? lead - 6 : lead + 6}`} />
      <Sign place={place} x={x} y={y} />
      <text x={edge} y={at - 5} text-anchor={left ? 'start' : 'end'} font-size="14" class="name">
        {short(headOf(place), 15)}
      </text>
      <text x={edge} y={at + 11} text-anchor={left ? 'start' : 'end'} font-size="13" class="soft">
        {short(subOf(place), 17)}
      </text>
    </a>
  );
}

/** The sign of how a place stands: an octagon where something has run out, an open circle where something is unproven. */
function Sign({ place, x, y }: { readonly place: Place; readonly x: number; readonly y: number }) {
  if (place.standing === 'out') return <path class="sign out" d={octagon(x, y, 8)} />;
  if (place.standing === 'unproven') return <circle class="sign open" cx={x} cy={y} r="7" />;
  return <circle class="sign good" cx={x} cy={y} r="4" />;
}

const octagon = (x: number, y: number, r: number): string => {
  const s = r * 0.42;
  return `M${x - s} ${y - r} H${x + s} L${x + r} ${y - s} V${y + s} L${x + s} ${y + r} H${x - s} L${x - r} ${y + s} V${y - s} Z`;
};

/** Marks with their labels down both sides, none nearer to the next than a row. */
function marksOf(places: readonly Place[], middle: number): Mark[] {
  const marks = places.flatMap((place): Mark[] => {
    if (place.spot === null) return [];
    const [x, y] = pointOf(place.spot, middle);
    return [{ place, x, y, left: x < middle, at: y }];
  });
  let next = false;
  const sided = marks.map((mark) => {
    if (mark.x !== middle) return mark;
    next = !next;
    return { ...mark, left: next };
  });
  return [true, false].flatMap((left) => {
    let floor = 22;
    return sided
      .filter((mark) => mark.left === left)
      .sort((a, b) => a.y - b.y)
      .map((mark) => {
        const at = Math.max(floor, mark.y);
        floor = at + ROW;
        return { ...mark, at };
      });
  });
}

function pointOf({ across, along }: Spot, middle: number): [number, number] {
  const y = along < -1 ? 68 : BODY.top + (along < 0 ? along * 120 : along * BODY.height);
  return [middle + (across * BODY.width) / 2, y];
}

const short = (text: string, most: number): string =>
  text.length <= most ? text : `${text.slice(0, most - 1).trimEnd()}…`;
const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** The tire of a wheel or the spare, once its pressure was read. */
const tireAt = ({ spot, parts }: Place) =>
  spot?.wheel || spot?.spare ? parts.find((part) => /tire/i.test(part.name) && part.reading !== '') : undefined;

function headOf(place: Place): string {
  const tire = tireAt(place);
  return tire ? tire.reading : capital(place.name);
}

function subOf(place: Place): string {
  const tire = tireAt(place);
  return tire ? `${/spare/i.test(tire.name) ? 'spare' : 'tire'} ${tire.made}` : statusText(place);
}

export function statusText({ parts }: Place): string {
  const out = parts.filter((part) => part.standing === 'out').length;
  const open = parts.filter((part) => part.standing === 'unproven').length;
  const said = [out > 0 ? `${out} run out` : '', open > 0 ? `${open} unproven` : '']
    .filter((text) => text !== '')
    .join(', ');
  return said === '' ? `${parts.length} in order` : said;
}
