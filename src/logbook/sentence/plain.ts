/** The odometer, a trip that is over, a paper renewed. */
import { isPlainDate, monthRange } from '../../dates/index.ts';
import { fail, ok, type Result } from '../../problem/index.ts';
import { formatQuantity, type Quantity, quantity } from '../../quantity/index.ts';
import type { RigState } from '../fold.ts';
import type { VehicleRole } from '../odometer.ts';
import { settingOf } from '../settings.ts';
import { tripsOf, vehicleOf } from '../state.ts';
import { ambiguous, dayText, type Reading, type SentenceContext, type Understanding, wordsUnknown } from './context.ts';
import { meaning, stemsOf } from './names.ts';
import { orderOrDone } from './not-done.ts';
import { stem } from './stems.ts';
import { type Figure, figuresOfDimension } from './tokens.ts';

/** The unit of a bare odometer figure: that of the owner's choice. */
export const distanceUnit = (state: RigState): 'mi' | 'km' => (settingOf(state, 'units') === 'metric' ? 'km' : 'mi');

/** A figure as a distance: in its own unit, or bare in the owner's. */
export function distanceOf(figure: Figure, state: RigState): Quantity | undefined {
  if (figure.quantity === undefined) return quantity(figure.value, distanceUnit(state));
  return figuresOfDimension([figure], 'length').length ? figure.quantity : undefined;
}

export const milesText = (q: Quantity): string => formatQuantity(q, { digits: 1 });

const TOW = new Set(['tow', 'truck', 'vehicle', 'car', 'pickup', 'suv'].map(stem));
const TRAILER = new Set(['trailer', 'hub'].map(stem));
const ODOMETER = stem('odometer');

/** Stems that name each vehicle. */
function vehicleStems(state: RigState): Record<VehicleRole, Set<string>> {
  const own = (role: VehicleRole): string[] => stemsOf(vehicleOf(state, role)?.body.name ?? '');
  return { trailer: new Set([...TRAILER, ...own('trailer')]), tow: new Set([...TOW, ...own('tow')]) };
}

const vehicleName = (state: RigState, role: VehicleRole): string => {
  const name = vehicleOf(state, role)?.body.name;
  const what = role === 'trailer' ? 'the trailer' : 'the tow vehicle';
  return name ? `${name} (${what})` : what;
};

/** `odometer 64,120.4`, `biscuit odometer 29,163`. */
export const odometerIn: Understanding = ({ tokens, state }) => {
  const [piece, ...others] = tokens.pieces;
  if (!piece || others.length > 0) return undefined;
  const words = meaning(piece.words);
  if (!words.includes(ODOMETER)) return undefined;
  const named = vehicleStems(state);
  const rest = words.filter((word) => word !== ODOMETER);
  const unknown = rest.filter((word) => !named.trailer.has(word) && !named.tow.has(word));
  if (unknown.length) return wordsUnknown(unknown, tokens.text);
  const roles = (['trailer', 'tow'] as const).filter((role) => rest.some((word) => named[role].has(word)));
  if (roles.length > 1)
    return ambiguous('Whose odometer?', ['the trailer’s', 'the tow vehicle’s'], 'Name one of them.');
  const figures = piece.figures;
  if (figures.length !== 1) {
    return fail({
      code: figures.length ? 'sentence.figure-many' : 'sentence.figure-missing',
      what: `The sentence gives ${figures.length} figures`,
      expected: 'one: “odometer 64,120.4”',
    });
  }
  const value = distanceOf(figures[0]!, state);
  if (!value)
    return fail({
      code: 'quantity.dimension-wrong',
      what: `${figures[0]!.text} is no distance`,
      expected: 'miles or kilometres',
    });
  const vehicle = roles[0] ?? 'trailer';
  const note = tokens.note ? { note: tokens.note } : {};
  return ok([
    {
      draft: { kind: 'reading', on: tokens.on, body: { vehicle, what: 'odometer', value, ...note } },
      said: `Odometer of ${vehicleName(state, vehicle)} on ${dayText(tokens.on)}: ${milesText(value)}.`,
    },
  ]);
};

const BACK = /^(?:we (?:are|were) |got )?(?:back|home|returned) (?:home )?from (?:the )?/i;

/** `back from palouse, 655 mi`. */
export const tripDoneIn: Understanding = (context) => {
  const { tokens, state } = context;
  if (!BACK.test(tokens.text)) return undefined;
  const words = meaning(tokens.pieces.flatMap((piece) => piece.words)).filter(
    (word) => !['back', 'return', 'home', 'night', ODOMETER].map(stem).includes(word),
  );
  const open = tripsOf(state).filter((trip) => trip.done === undefined);
  const fits = open.filter((trip) => {
    const own = new Set(meaning(`${trip.id} ${trip.plan.body.name}`.toLowerCase().split(/[^a-z0-9]+/)));
    return words.length > 0 && words.every((word) => own.has(word));
  });
  const listed = (trips: typeof open): string[] =>
    trips.map((trip) => `${trip.plan.body.name} (${trip.id}, planned for ${dayText(trip.plan.body.leave)})`);
  if (fits.length === 0) {
    return fail({
      code: 'sentence.trip-unknown',
      what: `No open trip goes by “${words.join(' ')}”`,
      expected: open.length ? `one of: ${listed(open).join('; ')}` : 'a planned trip that is not over; there is none',
    });
  }
  const left = fits.filter((trip) => trip.plan.body.leave <= tokens.on);
  if (left.length > 1) return ambiguous('Several trips fit', listed(left), 'Give more of its name.');
  const trip = left[0];
  if (!trip)
    return fail({
      code: 'sentence.trip-unknown',
      what: `${fits[0]!.plan.body.name} leaves on ${dayText(fits[0]!.plan.body.leave)}, after ${dayText(tokens.on)}`,
      next: 'Plan the trip again with the day you really left, or give the day you were back.',
    });
  return tripDone(context, trip.id, trip.plan.body.name, trip.plan.body.leave);
};

function tripDone({ tokens, state }: SentenceContext, trip: string, name: string, left: string): Result<Reading[]> {
  const figures = tokens.pieces.flatMap((piece) => piece.figures);
  const shown = figures.filter((figure) => ['at', 'odometer', 'odo'].includes(figure.after));
  const driven = figures.filter(
    (figure) => !shown.includes(figure) && figure.quantity && figuresOfDimension([figure], 'length').length,
  );
  const nights = figures.filter((figure) => /nights?$/i.test(figure.text));
  const rest = figures.filter((figure) => ![...shown, ...driven, ...nights].includes(figure));
  if (rest.length || driven.length !== 1 || shown.length > 1 || nights.length > 1) {
    return fail({
      code: driven.length === 0 ? 'sentence.figure-missing' : 'sentence.figure-many',
      what:
        driven.length === 0
          ? 'How many miles was it?'
          : `I cannot place ${[...rest, ...driven.slice(1), ...shown.slice(1)].map((figure) => figure.text).join(', ')}`,
      expected: '“back from palouse, 655 mi”, and after it “odometer 64,775.4” or “9 nights”',
    });
  }
  const miles = driven[0]!.quantity!;
  const odometer = shown[0] ? distanceOf(shown[0], state) : undefined;
  const count = nights[0] ? { nights: nights[0].value } : {};
  return ok([
    {
      draft: {
        kind: 'trip-done',
        on: tokens.on,
        body: {
          trip,
          left,
          back: tokens.on,
          miles,
          ...(odometer ? { odometer } : {}),
          ...count,
          ...(tokens.note ? { note: tokens.note } : {}),
        },
      },
      said: `Trip “${name}” is over: left ${dayText(left)} as planned, back ${dayText(tokens.on)}, ${formatQuantity(miles)}${odometer ? `, odometer ${milesText(odometer)}` : ''}.`,
    },
  ]);
}

const PAPERS = new Set(['registration', 'insurance', 'inspection']);

/** `registration to 2027-05-31`. */
export const paperIn: Understanding = ({ tokens, names, state }) => {
  if (tokens.until === undefined) return undefined;
  const words = meaning(tokens.pieces.flatMap((piece) => piece.words)).filter(
    (word) => !['renew', 'paid', 'pay', 'paper', 'valid'].map(stem).includes(word),
  );
  if (![...PAPERS].some((kind) => words.includes(stem(kind)))) return undefined;
  const order = tokens.pieces
    .flatMap((piece) => piece.words)
    .find((word) => ['renew', 'renews', 'renewing', 'pay', 'paying'].includes(word));
  if (order !== undefined) return orderOrDone(order, tokens.text);
  const papers = names.parts.filter((one) => PAPERS.has(one.part.kind));
  const whose = papers.map((one) => ({ one, role: one.part.vehicle ?? 'trailer' }));
  // Not by their place: both registrations lie in one glove box.
  const fits = whose.filter(({ one, role }) => {
    const own = new Set([
      ...stemsOf(`${one.part.id} ${one.kind?.name ?? ''}`),
      stem(one.part.kind),
      ...vehicleStems(state)[role],
    ]);
    return words.every((word) => own.has(word));
  });
  const told = ({ one, role }: (typeof whose)[number]): string =>
    `${(one.kind?.name ?? one.part.kind).toLowerCase()} of ${vehicleName(state, role)}`;
  if (fits.length === 0)
    return fail({
      code: 'sentence.words-unknown',
      what: `There is no such paper on record: “${words.join(' ')}”`,
      expected: papers.length ? whose.map(told).join('; ') : 'a paper that was fitted; there is none',
    });
  // As with the odometer, the trailer’s is meant where no vehicle is named, and what is understood says so.
  const ofTrailer = fits.filter(({ role }) => role === 'trailer');
  const chosen = fits.length === 1 ? fits : ofTrailer;
  const [paper] = chosen;
  if (!paper || chosen.length > 1) return ambiguous('Several papers fit', fits.map(told), 'Say whose it is.');
  const month = monthRange(tokens.until);
  const goodThrough = month.ok ? month.value.to : tokens.until;
  if (!isPlainDate(goodThrough))
    return fail({ code: 'date.impossible', what: `There is no ${tokens.until}`, expected: 'a day of the calendar' });
  const figures = tokens.pieces.flatMap((piece) => piece.figures);
  const cost = figuresOfDimension(figures, 'money');
  if (cost.length !== figures.length || cost.length > 1)
    return fail({
      code: 'sentence.figure-many',
      what: `I cannot place ${figures.map((figure) => figure.text).join(', ')}`,
      expected: 'at most what it cost: “$62”',
    });
  const paid = cost[0] ? { cost: cost[0].value } : {};
  return ok([
    {
      draft: { kind: 'paper', on: tokens.on, body: { part: paper.one.part.id, goodThrough, ...paid } },
      said: `Good through ${dayText(goodThrough)}: ${told(paper)}, written on ${dayText(tokens.on)}${cost[0] ? `, ${cost[0].text}` : ''}.`,
    },
  ]);
};
