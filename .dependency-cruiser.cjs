/**
 * The walls of the house (docs/internals/architecture.md): one direction of dependence, rooms entered by their doors, pure rooms that
 * reach nothing of the host. `test/outside/walls.test.ts` plants one violation a rule to prove that each of them fires.
 */
const { builtinModules } = require('node:module');

/** In order of dependence: a room may use those before it, never those after it. */
const rooms = [
  'problem',
  'elementary',
  'quantity',
  'dates',
  'chance',
  'catalog',
  'logbook',
  'proof',
  'codes',
  'tires',
  'loads',
  'gas',
  'power',
  'water',
  'brakes',
  'routes',
  'calculations',
  'outlook',
  'plan',
  'sendoff',
  'desk',
  'store',
  'sheets',
  'server',
  'cli',
  'web',
];
const pure = rooms.slice(0, rooms.indexOf('store'));
/** What pure rooms may take from npm: themselves pure. */
const purePackages = [
  'zod',
  'yaml',
  'temporal-polyfill',
  'fast-xml-parser',
  'geographiclib-geodesic',
  'sorted-btree',
  '@noble',
];

const any = (names) => `(${names.join('|')})`;
const tests = '\\.(test|contract)\\.tsx?$';
const builtins = `^(node:)?${any(builtinModules.filter((name) => !name.startsWith('_')))}(/|$)`;

const direction = rooms.slice(0, -1).map((room, index) => ({
  name: `direction-${room}`,
  comment: `${room} comes before ${rooms.slice(index + 1).join(', ')}: it may not use them.`,
  severity: 'error',
  from: { path: `^src/${room}/`, pathNot: tests },
  to: { path: `^src/${any(rooms.slice(index + 1))}/` },
}));

module.exports = {
  forbidden: [
    ...direction,
    {
      name: 'door',
      comment: 'A room is entered only by its door, index.ts.',
      severity: 'error',
      from: { path: '^src/([^/]+)/' },
      to: { path: '^src/[^/]+/', pathNot: ['^src/$1/', '^src/[^/]+/index\\.ts$'] },
    },
    {
      name: 'room-unknown',
      comment: 'Every folder of src is a room of the list above.',
      severity: 'error',
      from: { path: '^src/', pathNot: `^src/(${rooms.join('|')})/` },
      to: {},
    },
    {
      name: 'pure-reaches-host',
      comment: 'A pure room touches nothing: no Node built-in, not even through another room.',
      severity: 'error',
      from: { path: `^src/${any(pure)}/`, pathNot: tests },
      to: { path: builtins, reachable: true },
    },
    {
      name: 'pure-package',
      comment: `Pure rooms take nothing from npm but ${purePackages.join(', ')}.`,
      severity: 'error',
      from: { path: `^src/${any(pure)}/`, pathNot: tests },
      to: { path: '(^|/)node_modules/', pathNot: `/?node_modules/${any(purePackages)}/` },
    },
    {
      name: 'cycle',
      comment: 'No file depends on itself in a round. Types alone may: they are gone before anything runs.',
      severity: 'error',
      from: {},
      to: { circular: true, viaOnly: { dependencyTypesNot: ['type-only'] } },
    },
    {
      name: 'not-resolved',
      comment: 'What cannot be resolved would pass every other rule in silence.',
      severity: 'error',
      from: {},
      to: { couldNotResolve: true, pathNot: '^virtual:' },
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    tsPreCompilationDeps: true,
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['import', 'node', 'default', 'types'],
      mainFields: ['module', 'main', 'types'],
    },
  },
};
