import { applyPatches, type Json } from '../../base/json-patch.ts';
import type { Design } from '../../design/design.ts';
import { overridesOf } from '../../strobe/case-overrides.ts';
import type { Point, StudyPlan, StudyTools } from '../shared/shape.ts';
import { drawShared, type SharedDraw } from './draw.ts';
import { makeBuild, ownCore, programmeOf, readMargin, type Build } from './read.ts';
import type { ToleranceOptions } from './tolerance-options.ts';

interface Draw {
  readonly shared: SharedDraw;
  /** Core of the bit that is read. */
  readonly address: number;
  readonly build: Build;
}

export function drawOf(plan: StudyPlan<ToleranceOptions>, point: Point, tools: StudyTools): Draw {
  const nominal = nominalOf(plan, tools);
  const index = Number(point.inputs.draw);
  const shared = drawShared(nominal, plan.seed, index);
  const drawn = { shared, seed: plan.seed, index };
  return {
    shared,
    address: Math.floor(shared.address * nominal.mat.rows * nominal.mat.columns),
    build: makeBuild(plan.design, nominal, drawn, plan.nominal?.time ?? 0, tools),
  };
}

/** The design as designed, checked once for all its draws. */
function nominalOf({ design }: StudyPlan<ToleranceOptions>, tools: StudyTools): Design {
  if (typeof design !== 'object' || design === null) return tools.checkDesign(design);
  const found = checked.get(design) ?? tools.checkDesign(design);
  checked.set(design, found);
  return found;
}
const checked = new WeakMap<object, Design>();

export const howOf = ({
  options: { reads, before },
}: StudyPlan<ToleranceOptions>): Pick<ToleranceOptions, 'reads' | 'before'> => ({ reads, before });

/**
 * The build of a draw as a design file, every core an exception of its own, set up to read the bit that is nearer to
 * failing under the pattern and state that the study reads it with: what the page opens. A file cannot say what one
 * core alone went through, so that a ZERO kept by its own inhibited write is opened as it was before that write.
 */
export function drawDesign(plan: StudyPlan<ToleranceOptions>, point: Point, tools: StudyTools): Json {
  const { build, address } = drawOf(plan, point, tools);
  const how = howOf(plan);
  const { design, patches } = build;
  const at = { mat: 0, core: address };
  const read = (bit: 0 | 1): number => readMargin(build, how, at, bit, tools);
  const bit = read(1) <= read(0) ? 1 : 0;
  const { pattern, state } = how.reads[bit === 1 ? 'one' : 'zero'];
  const { columns } = design.mat;
  const [row, column] = [Math.floor(address / columns), address % columns];
  const placed: Design = { ...design, selected: { row, column, bit } };
  const { stored } = overridesOf(placed, { bit, pattern, state });
  return applyPatches(plan.design, [
    ...patches,
    { path: '/selected', value: { row, column, bit } },
    ...(how.before === 'cycle'
      ? [{ path: '/programme', value: programmeOf(placed) as unknown as Json }]
      : [{ path: '/programme' }]),
    { path: '/initialState', value: state },
    ...(stored?.rows === undefined
      ? []
      : [{ path: '/stored', value: { kind: 'custom', rows: [...stored.rows] } }]),
    ...(stored?.complement === undefined || stored.rows !== undefined
      ? []
      : [{ path: '/stored/complement', value: stored.complement }]),
    { path: '/exceptions', value: coreExceptions(build) },
  ]);
}

function coreExceptions({ design, cores }: Build): Json {
  const { rows, columns } = design.mat;
  const spread = cores(0);
  const own = new Map(design.exceptions.map((e) => [e.row * columns + e.column, e]));
  return Array.from({ length: rows * columns }, (_, core) => {
    const { missing, reversed, bias, ...factors } = ownCore(design, spread, core, own.get(core));
    return {
      ...factors,
      ...(missing ? { missing } : {}),
      ...(reversed ? { reversed } : {}),
      ...(bias === 0 ? {} : { bias: `${bias} A` }),
    };
  });
}
