/**
 * Before every test file: one seed for all property tests, so that `npm test` says the same twice. `npm run roam` sets another by the
 * environment and looks where no run has looked before.
 */
import fc from 'fast-check';

const FIXED_SEED = 20_260_527;

fc.configureGlobal({ seed: Number(process.env.PROPERTY_SEED ?? FIXED_SEED) });
