/** The engine in the order in which the data flows. Only re-exports. */
export * from './design.ts';
export * from './core-model.ts';
export * from './result.ts';
export * from './window-result.ts';
export * from './half-select-law.ts';
export * from './studies/study-shape.ts';
export * from './studies/study.ts';
export * from './detector.ts';
export * from './amplifier.ts';
