import { Logbook } from './logbook.ts';

const read = (value: string) => ({ value, origin: 'label' });

/**
 * An invented rig of which everything is known that does not hang on a part: both vehicles with every rating, and the tickets of
 * three passes over a scale (tongue 800 lb, trailer 6,400 lb, 12.5 %), all within five per cent of no rating.
 */
export const soundRig = (): Logbook =>
  new Logbook()
    .add('enroll', '2022-04-01', {
      vehicle: 'trailer',
      name: 'Marigold',
      axles: 2,
      ratings: {
        gvwr: read('7000 lb'),
        gawrAxle: read('3500 lb'),
        coupler: read('10000 lb'),
        chains: read('15000 lb'),
      },
    })
    .add('enroll', '2022-04-01', {
      vehicle: 'tow',
      name: 'Biscuit',
      ratings: {
        gvwr: read('7200 lb'),
        gcwr: read('13500 lb'),
        gawrFront: read('3600 lb'),
        gawrRear: read('4200 lb'),
        receiver: read('10000 lb'),
        receiverTongue: read('1000 lb'),
        ball: read('10000 lb'),
      },
    })
    .add('set', '2022-04-01', { key: 'fact/tongue-share', value: '10 to 15 %' })
    .add('weigh', '2026-05-03', threePasses());

/** Tickets of three passes; the trailer's axles heavier by `more` pounds than in the sound rig. */
export function threePasses(more = 0): Record<string, unknown> {
  return {
    solo: { front: '3200 lb', rear: '2800 lb' },
    hitchedSlack: { front: '2840 lb', rear: '3960 lb', axles: `${5600 + more} lb` },
    hitchedSet: { front: '3020 lb', rear: '3680 lb', axles: `${5700 + more} lb` },
    step: '20 lb',
  };
}

export const tripOf = (leave: string, back: string, miles: string, more: Record<string, unknown> = {}) => ({
  trip: 'palouse',
  name: 'Palouse',
  leave,
  return: back,
  miles,
  ...more,
});
