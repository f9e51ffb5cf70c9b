import { writeQuantity } from '../base/format-quantity.ts';
import type { Patch } from '../base/json-patch.ts';
import type { Unit } from '../base/units.ts';
import { clean } from './rounding.ts';
import type { Needs } from './needs.ts';

/** One need that can be relaxed. */
export interface Lever {
  /** Its field in the needs, as a JSON pointer. */
  readonly need: string;
  readonly label: string;
  readonly unit: Unit;
  /** Its value as it is, and at part t (0..1) of the way to the farthest that makes sense, SI. */
  readonly at: (t: number) => number;
  readonly patches: (value: number) => readonly Patch[];
  /** Yes or no, nothing between. */
  readonly whole?: boolean;
}

/** Three and four wires through a hole: 1 + 2/sqrt(3) and 1 + sqrt(2) diameters. */
const BUNDLE = { three: 1 + 2 / Math.sqrt(3), four: 1 + Math.SQRT2 } as const;

/** Every need that could stand in the way; `hole` m, of the core that is used. */
export function levers(needs: Needs, hole: number, wires: number): readonly Lever[] {
  const { want, temperature, tolerances, detector, supply, drivers, wire } = needs;
  const text =
    (path: string, unit: Unit) =>
    (value: number): readonly Patch[] => [
      { path, value: unit === '1' ? clean(value) : writeQuantity(clean(value), unit) },
    ];
  const toward = (need: string, label: string, unit: Unit, from: number, to: number): Lever => ({
    need,
    label,
    unit,
    at: (t) => rounded(from + (to - from) * t),
    patches: text(need, unit),
  });
  const times = (need: string, label: string, unit: Unit, from: number, most: number): Lever => ({
    need,
    label,
    unit,
    at: (t) => rounded(from * most ** t),
    patches: text(need, unit),
  });
  const middle = (temperature.from + temperature.to) / 2;
  const half = (temperature.to - temperature.from) / 2;
  const thick = hole / (wires === 3 ? BUNDLE.three : BUNDLE.four) / 1.01;
  const outside = wire.diameter ?? 0.08e-3;
  const bare = wire.bareDiameter ?? 0.89 * outside;
  const all: readonly Lever[] = [
    ...(drivers.track
      ? []
      : [
          {
            need: '/drivers/track',
            label: 'drives that follow the temperature',
            unit: '1' as const,
            at: (t: number): number => t,
            patches: (value: number): readonly Patch[] => [{ path: '/drivers/track', value: value > 0 }],
            whole: true,
          },
        ]),
    {
      need: '/temperature',
      label: 'temperature either way of the middle',
      unit: 'K',
      at: (t) => rounded(half * (1 - 0.9 * t)),
      patches: (value) => [
        {
          path: '/temperature',
          value: { from: `${clean(middle - value)} degC`, to: `${clean(middle + value)} degC` },
        },
      ],
    },
    toward('/want/margin', 'margin', 'V', want.margin, 0),
    toward('/want/width', 'width of the window', 's', want.width, 0),
    toward('/tolerances/drive', 'tolerance of the drives, one standard deviation', '1', tolerances.drive, 0),
    toward('/tolerances/supply', 'half-range of the supply', '1', tolerances.supply, 0),
    toward(
      '/tolerances/threshold',
      'tolerance of the threshold, one standard deviation',
      '1',
      tolerances.threshold,
      0,
    ),
    toward('/detector/uncertainty', 'uncertainty of the threshold', 'V', detector.uncertainty, 0),
    times('/cycle', 'cycle', 's', needs.cycle, 8),
    times('/supply/budget', 'average current of the supply', 'A', supply.budget, 4),
    times('/supply/voltage', 'voltage of the supply', 'V', supply.voltage, 4),
    ...(thick > outside * 1.02
      ? [
          {
            need: '/wire/bareDiameter',
            label: 'bare diameter of the wire',
            unit: 'm' as const,
            at: (t: number) => rounded(bare * (thick / outside) ** t),
            patches: (value: number): readonly Patch[] => [
              { path: '/wire/bareDiameter', value: writeQuantity(clean(value), 'm') },
              { path: '/wire/diameter', value: writeQuantity(clean((outside * value) / bare), 'm') },
            ],
          },
        ]
      : []),
  ];
  return all.filter(({ at }) => at(1) !== at(0));
}

/** A value that a builder would write down. */
const rounded = (value: number): number => Number(value.toPrecision(2));
