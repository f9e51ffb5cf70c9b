import { DEMO_DESIGNS } from '../model/demo-designs.ts';
import type { RawDesign } from '../model/pointer.ts';

const files = import.meta.glob<string>('../../fixtures/captures/demo-*.csv', {
  eager: true,
  import: 'default',
  query: '?raw',
});

const textOf = (file: string): string => files[`../../fixtures/captures/${file}`] ?? '';

/** Invented captures, bundled so that the bench can be tried without an instrument. */
export interface SampleCapture {
  readonly file: string;
  readonly title: string;
  readonly text: string;
  readonly bit: 0 | 1;
  readonly design: RawDesign;
}

const design = DEMO_DESIGNS.find(({ id }) => id === 'tide-recorder-first-try-16x16')!.raw;

export const SAMPLE_CAPTURES: readonly SampleCapture[] = [
  { file: 'demo-one.csv', title: 'a ONE', bit: 1 },
  { file: 'demo-zero.csv', title: 'a ZERO', bit: 0 },
  { file: 'demo-fault.csv', title: 'a ONE of a mat with a fault', bit: 1 },
].map((sample) => ({ ...sample, bit: sample.bit as 0 | 1, text: textOf(sample.file), design }));

/** Of one core on a jig; the drive rises from 25 ns on, for 50 ns. */
export const JIG_SAMPLES: readonly { readonly title: string; readonly text: string }[] = [
  { title: 'invented ONE of one core', text: textOf('demo-jig-one.csv') },
  { title: 'invented disturbed ZERO of one core', text: textOf('demo-jig-zero.csv') },
];
