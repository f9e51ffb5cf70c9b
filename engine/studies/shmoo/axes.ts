import { formatQuantity } from '../../base/format-quantity.ts';
import type { Design } from '../../design/design.ts';
import { inputValue, plannedInput, type StudyInput } from '../shared/inputs.ts';
import { mustBe, refuseOption } from '../shared/options.ts';
import type { StudyPlan } from '../shared/shape.ts';
import type { AxisOptions, ShmooOptions, ShmooOptionsRead } from './shmoo-options.ts';

/**
 * Pass and margin over two inputs. Points are lines across the plane: each row and column is sampled coarsely and
 * its edges are then found by halving, so the boundary is known far finer than the grid. Two more points walk from
 * the nominal along either axis and give the operating margins.
 */

export interface Axis {
  readonly input: StudyInput;
  readonly from: number;
  readonly to: number;
  readonly nominal: number;
}

export const places = (axis: Axis, count: number): number[] =>
  Array.from({ length: count }, (_, i) => axis.from + ((axis.to - axis.from) * i) / (count - 1));

/** An axis with its ends, by default about the nominal value. */
export function completeAxis(
  options: ShmooOptionsRead,
  name: 'x' | 'y',
  design: Design,
  strobe: number,
): Axis {
  const input = options[name];
  const nominal =
    inputValue(input, design) ??
    (input.key === 'strobe' || input.key === '/strobe/time' ? strobe : undefined);
  if (nominal === undefined)
    return refuseOption(
      [name],
      mustBe('an input with a finite value in this design', input.key, 'give it a value first'),
    );
  const [low, high] = defaultRange(nominal, input);
  const { [`${name}From` as const]: from = low, [`${name}To` as const]: to = high } = options;
  if (!(from < to))
    refuseOption(
      [`${name}To`],
      `must be above ${name}From, ${formatQuantity(from, input.unit)}, but is ${formatQuantity(to, input.unit)}; exchange the two`,
    );
  return { input, from, to, nominal };
}

function defaultRange(nominal: number, input: StudyInput): [number, number] {
  if (input.unit === '°C') return [Math.min(0, nominal - 20), Math.max(70, nominal + 20)];
  if (nominal === 0) return input.unit === 's' ? [-50e-9, 50e-9] : [0, 1];
  const reach = input.key === 'strobe' || input.key === 'threshold' ? 0.6 : 0.3;
  const ends: [number, number] = [nominal * (1 - reach), nominal * (1 + reach)];
  return nominal > 0 ? ends : [ends[1], ends[0]];
}

export const axisJson = ({ input, from, to, nominal }: Axis): AxisOptions => ({
  key: input.key,
  from,
  to,
  nominal,
});

export function planAxis({ options }: StudyPlan<ShmooOptions>, name: 'x' | 'y'): Axis {
  const { key, from, to, nominal } = options[name];
  return { input: plannedInput(key), from, to, nominal };
}
