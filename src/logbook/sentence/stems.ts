/** Words brought to one form, so that `repacked`, `repacking` and `repack` are the same word. */

const SUFFIXES: readonly (readonly [RegExp, string])[] = [
  [/(ss|x|sh|ch)es$/, '$1'],
  [/ies$/, 'y'],
  [/([^s])s$/, '$1'],
  [/ied$/, 'y'],
  [/([bdgmnprt])\1(ed|ing)$/, '$1'],
  [/(ed|ing)$/, ''],
  [/(ation|ion)$/, ''],
  [/e$/, ''],
];

/** A crude stem: `repacked`, `repacking` and `repack` are one; so are `bearings` and `bearing`, `greased` and `grease`. */
export function stem(word: string): string {
  const known = IRREGULAR[word];
  let out = known ?? word;
  for (const [from, to] of SUFFIXES) {
    const shorter = out.replace(from, to);
    if (shorter.length >= 3) out = shorter;
  }
  return out;
}

/** Spellings and past forms that no rule makes. */
const IRREGULAR: Readonly<Record<string, string>> = {
  tyre: 'tire',
  tyres: 'tire',
  practiced: 'practise',
  practice: 'practise',
  practising: 'practise',
  practicing: 'practise',
  lubed: 'lubricate',
  lube: 'lubricate',
  sanitised: 'sanitize',
  winterised: 'winterize',
  greased: 'grease',
  blew: 'blow',
  drew: 'draw',
  read: 'read',
  done: 'do',
  did: 'do',
  drained: 'drain',
  brakes: 'brake',
  torqued: 'torque',
  retorqued: 'retorque',
  're-torqued': 'retorque',
  're-torque': 'retorque',
  're-packed': 'repack',
  propane: 'lp',
  gas: 'lp',
  odo: 'odometer',
  batteries: 'battery',
  lug: 'wheel',
  lugs: 'nut',
  detector: 'alarm',
  detectors: 'alarm',
  wheels: 'wheel',
};
