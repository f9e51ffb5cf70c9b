import type { Json, Patch } from '../base/json-patch.ts';
import type { Design } from '../design/design.ts';
import { derived } from './derive.ts';
import { leadFields, type LooseLeads } from './leads.ts';

export type StageName = 'rig' | 'mat' | 'word' | 'whole';

/** A design to build before the final one, derived from it. */
export interface Stage {
  readonly name: StageName;
  /** "Breadboard rig". */
  readonly title: string;
  readonly design: Design;
  /** Mats of the final design, on whose lines X and Y drive in the end. */
  readonly finalMats: number;
}

/** Our own choice, no source: half a metre of wire at a breadboard, a bench's 150 mm in front of a single mat or word. */
const RIG_LEADS: LooseLeads = { run: 0.5, apart: 10e-3, between: 30e-3 };
const BENCH_LEADS: LooseLeads = { run: 0.15, apart: 5e-3, between: 15e-3 };

/** Two probes and their difference in place of the amplifier; 100 MHz and 40 dB are common practice, no source. */
const PROBES: Json = {
  gain: 1,
  divider: 1,
  inputResistance: '1 Mohm',
  inputClamp: 'none',
  bandwidth: '100 MHz',
  outputLimit: '100 V',
  recovery: '0 ns',
  commonModeRejection: '40 dB',
  polarity: 'either',
};

/** Mats that load the lines of a rig: the one that is read, and one of dummies that no sense wire threads. */
const RIG_MATS = 2;

/**
 * What to build one after the other on the way to a design, the design itself last: a breadboard rig with the cores of
 * one X and one Y line, one mat by itself, one word through the whole stack. Each is checked as any design is.
 */
export function stagesOf(design: Design): readonly Stage[] {
  const { mat, selected } = design;
  const { row, column } = selected;
  const make = (name: StageName, title: string, patches: readonly Patch[]): Stage => ({
    name,
    title,
    finalMats: mat.mats,
    design: derived(design, [
      {
        path: '/name',
        value: [design.name, title]
          .filter((part) => part !== '')
          .join(': ')
          .slice(0, 100),
      },
      { path: '/requirement/sets', value: ['nominal'] },
      ...patches,
    ]),
  });
  const loose = (leads: LooseLeads): readonly Patch[] => {
    const fields = leadFields(design, leads);
    return [
      { path: '/mat/leads', value: fields.leads },
      { path: '/wire/cable', value: fields.cable },
    ];
  };
  const alone = (mats: number): readonly Patch[] => [
    { path: '/mat/mats', value: mats },
    { path: '/mat/otherOnes', value: Math.min(mat.otherOnes, mats - 1) },
  ];
  const only = (populated: Json): Patch => ({ path: '/mat/populated', value: populated });
  const rig = make('rig', 'Breadboard rig', [
    ...alone(Math.min(RIG_MATS, mat.mats)),
    only({ rows: [row], columns: [column] }),
    ...loose(RIG_LEADS),
    { path: '/amplifier', value: PROBES },
  ]);
  const single = make('mat', 'One mat by itself', [...alone(1), ...loose(BENCH_LEADS)]);
  const word = make('word', 'One word', [only({ cores: [{ row, column }] }), ...loose(BENCH_LEADS)]);
  return [
    rig,
    single,
    ...(mat.mats > 1 ? [word] : []),
    {
      name: 'whole',
      title: mat.mats > 1 ? 'The whole stack' : 'The mat on its board',
      finalMats: mat.mats,
      design,
    },
  ];
}
