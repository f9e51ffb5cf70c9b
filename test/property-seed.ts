import * as fc from 'fast-check';

/** One commit, one verdict: property tests draw the same cases each time. `PROPERTY_SEED=N` tries others. */
fc.configureGlobal({ seed: Number(process.env.PROPERTY_SEED ?? 1) });
