/** The engine in the order in which the data flows. Only re-exports. */
export * from './design.ts';
export * from './core-model.ts';
export * from './core-drive.ts';
export * from './core-single.ts';
export * from './core-closed-forms.ts';
export * from './core-measure.ts';
export * from './core-answers.ts';
export * from './core-handbook.ts';
export * from './result.ts';
export * from './window-result.ts';
export * from './half-select-law.ts';
export * from './studies/study-shape.ts';
export * from './studies/study.ts';
export * from './detector.ts';
export * from './amplifier.ts';
