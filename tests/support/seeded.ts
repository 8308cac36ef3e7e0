import fc from 'fast-check'

// Properties draw the same cases in every run, so that a red run is red again; `CARDWRIGHT_SEED=random`
// or a number draws others, for hunting.
const seed = process.env['CARDWRIGHT_SEED'] ?? '20261125'
if (seed !== 'random') fc.configureGlobal({ seed: Number(seed) })
