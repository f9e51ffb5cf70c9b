import type { Design } from '../design/design.ts';
import { constraints } from '../estimates/constraints.ts';
import { build, orRefused } from './build.ts';
import type { Combination } from './combinations.ts';
import type { Needs } from './needs.ts';
import type { Variables } from './variables.ts';

/** A: half-select currents between which the start is sought, in steps of this factor. */
const CURRENTS = { least: 0.02, most: 5, factor: 1.02 } as const;
/** Part of the greatest current that the knee bears. */
const UNDER_KNEE = 0.99;

/**
 * Where a search of a combination starts: the greatest half-select current at which neither the knee nor the softest
 * core gives way, edges of a moderate speed, terminations of a hundred ohms. From closed forms, no run. Undefined where
 * none makes a design.
 */
export function startOf(needs: Needs, combination: Combination): Variables | undefined {
  const base = baseOf(needs);
  const built = orRefused(() => build(needs, combination, base));
  return built && { ...base, half: UNDER_KNEE * greatestHalf(built.design, base.half) };
}

/** The design's currents scaled until the knee is just kept; by halves, all other things as they are. */
function greatestHalf(design: Design, half: number): number {
  let [low, high] = [Math.log(CURRENTS.least), Math.log(CURRENTS.most)];
  while (high - low > Math.log(CURRENTS.factor) / 4) {
    const middle = (low + high) / 2;
    if (holds(scaled(design, Math.exp(middle) / half))) low = middle;
    else high = middle;
  }
  return Math.exp(low);
}

function scaled(design: Design, factor: number): Design {
  const { x, y, inhibit } = design.drive;
  const line = (d: typeof x): typeof x => ({
    ...d,
    readAmplitude: d.readAmplitude * factor,
    writeAmplitude: d.writeAmplitude * factor,
  });
  const drive = { x: line(x), y: line(y), inhibit: { ...inhibit, amplitude: inhibit.amplitude * factor } };
  return { ...design, drive };
}

const KNEES: ReadonlySet<string> = new Set([
  'softest-core',
  'half-select-over-knee',
  'inhibited-core-over-knee',
  'inhibit-over-knee',
]);

const holds = (design: Design): boolean =>
  constraints(design).every(({ code, excess }) => !KNEES.has(code) || excess <= 0);

/** Values to begin with before the currents are known. */
export const baseOf = ({ drivers, amplifier }: Needs): Variables => ({
  half: 0.3,
  tracking: drivers.track ? 0.8 : 0,
  inhibit: 1,
  rise: Math.max(drivers.fastest, 40e-9),
  stagger: 0,
  termination: 150,
  bandwidth: amplifier.bandwidth,
});
