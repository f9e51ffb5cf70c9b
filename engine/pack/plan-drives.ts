import type { Design } from '../design/design.ts';
import { driveLevels } from '../drive/at-temperature.ts';
import { driveNeeds } from '../estimates/drive-needs.ts';
import { type PlanStep, q, q3 } from './plan-step.ts';

export function beforePower(): PlanStep[] {
  return [
    {
      title: 'Look',
      act: 'With a lens: every core present, whole and leaning as drawn; every wire through every core; no enamel scraped.',
      expect: 'Every box of the threading sheet is ticked.',
      stop: 'A core cracked or leaning the other way: mend it now, it cannot be reached later.',
    },
    {
      title: 'Continuity and insulation',
      act: 'Ohm meter, leads shorted first and taken off. Each wire end to end; then each wire to every other and to the board.',
      expect:
        'Each wire within the limits of the threading sheet; over 10 MΩ between any two wires that do not meet.',
      stop: 'Under 10 MΩ: the enamel is through at a core. Use no insulation tester above the supply voltage.',
    },
  ];
}

export function drivesAlone(design: Design): PlanStep[] {
  const { supply, drive, tolerances, cycle } = design;
  const levels = driveLevels(design);
  const within = (value: number): string => {
    const spread = 3 * tolerances.drive * value;
    return `${q3(value, 'A')} ± ${q(spread, 'A', 2)}`;
  };
  const x = driveNeeds(design)[0]!;
  const slow = 100 * cycle.period;
  return [
    {
      title: 'Supply alone',
      act: `Supply at ${q3(supply.voltage, 'V')}, its current limited to ${q(1.5 * supply.quiescent, 'A', 2)}. Logic idle, no pulses.`,
      expect: `${q(supply.quiescent, 'A', 2)} at rest, give or take a fifth. No line carries current.`,
      stop: `Over ${q(1.5 * supply.quiescent, 'A', 2)}, or any line warm: a driver is on.`,
    },
    {
      title: 'Timing into dummies',
      act: 'A resistor in place of every line under test. Every edge of the timing sheet on two probes, against the X read edge.',
      expect:
        'Every half-amplitude instant within its tolerance; the inhibit covers the write on both sides.',
      stop: 'Read and write drivers of one line on together.',
    },
    {
      title: 'One X line',
      act: `One X line alone, read pulses only, one cycle each ${q3(slow, 's')}. Current on a 1 Ω resistor or a current probe; voltage across the line.`,
      expect: `${within(levels.x.read)} within ${q3(drive.x.rise, 's')}; ${q(x.onEdge, 'V', 2)} on the edge, ${q(x.onTop, 'V', 2)} at most after it.`,
      stop: `Over ${q3(1.1 * levels.x.read, 'A')}, over ${q3(drive.x.clamp, 'V')} at turn-off, or a current that does not end.`,
    },
    {
      title: 'Every other line',
      act: 'The same with every X and every Y line, one after the other.',
      expect: `X ${within(levels.x.read)} and Y ${within(levels.y.read)}; a line that stands apart from the rest is looked at, even inside these limits.`,
      stop: 'One line slower than the rest: a short, or too many cores; one faster: an open return.',
    },
  ];
}
