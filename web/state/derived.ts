import { computed } from '@preact/signals-core';
import { formatQuantity } from '../../engine/base/format-quantity.ts';
import type { Design } from '../../engine/design/design.ts';
import type { TimeSpan } from '../charts/spaces.ts';
import type { Checked } from '../model/checked.ts';
import { clockMarks } from '../model/clock-marks.ts';
import { coreSource } from '../model/core-source.ts';
import { isStale } from '../model/keyed.ts';
import { physicsKey, wholeKey } from '../model/physics-key.ts';
import { readSpan } from '../model/read-span.ts';
import type { Run } from '../model/run.ts';
import { strobeStateAt } from '../model/strobe-state.ts';
import { verdictOf } from '../model/verdict.ts';
import type { Atoms } from './atoms.ts';

/** What follows from the atoms; no view computes it a second time, and nothing here writes. */
export function derive(atoms: Atoms) {
  const raw = computed(() => atoms.history.value.present);
  const checked = computed(() => atoms.checks.of(raw.value) ?? UNKNOWN);
  /** The design as it is now; undefined while an input is refused, and until it was first checked. */
  const design = computed(() => checked.value.design);
  const faults = computed(() => checked.value.faults);
  /** Of the inputs as they are; of the last ones that held where they are refused. */
  const inForce = computed((): Design | undefined => design.value ?? lastHeld(atoms));
  const physics = computed(() => physicsKey(raw.value));
  /** Physics, strobe and threshold: what a judgement or an answer about the whole design is of. */
  const whole = computed(() => wholeKey(raw.value));

  const cycle = computed((): TimeSpan => ({ from: 0, to: inForce.value?.cycle.period ?? 1e-6 }));
  const span = computed(
    (): TimeSpan => atoms.span.value ?? (inForce.value ? readSpan(inForce.value) : cycle.value),
  );

  /** The last run; old while `runIsOld`. */
  const run = computed((): Run | undefined => atoms.run.value?.value);
  const runIsOld = computed(() => isStale(atoms.run.value, physics.value) || faults.value.length > 0);
  const judged = computed((): Run | undefined => atoms.judged.value?.value);
  const judgedIsOld = computed(
    () =>
      isStale(atoms.judged.value, physics.value) ||
      faults.value.length > 0 ||
      (judged.value !== undefined && judged.value.one !== run.value?.one),
  );
  /** All cases counted, corners among them. */
  const fullyJudged = computed(() => judged.value?.grade === 'full' && !judgedIsOld.value);

  const detectorPlace = computed(() => {
    const from = inForce.value;
    return from && { time: from.strobe.time, level: from.detector.threshold };
  });
  /** What holds at the strobe and threshold in force, by the last judgement. */
  const strobe = computed(() => {
    const at = detectorPlace.value;
    return judged.value && at && strobeStateAt(judged.value, at.time, at.level);
  });
  /** The worst cases at hand are those that were looked for at this strobe and threshold. */
  const sought = computed(() => {
    const [at, by] = [detectorPlace.value, judged.value?.design];
    return at !== undefined && by?.strobe.time === at.time && by?.detector.threshold === at.level;
  });
  /** The strobe follows the best instant. */
  const strobeFollows = computed(() => design.value?.strobe.time === undefined);
  const verdict = computed(() =>
    verdictOf(strobe.value, inForce.value ? coreSource(inForce.value) : 'being computed'),
  );

  /** Where a lesson covers the margin its strobe is put aside, and nothing is told of that place. */
  const shownStrobe = computed(() => {
    const lesson = atoms.lesson.value;
    const aside = lesson?.covered?.includes('margin') && !lesson.movable?.includes('strobe');
    return aside ? undefined : strobe.value;
  });

  const core = computed(() => atoms.core.value ?? inForce.value?.selected ?? { row: 0, column: 0 });
  /** s: where the clock stands; where no strobe is shown, at the beginning. */
  const instant = computed(() => atoms.instant.value ?? shownStrobe.value?.time ?? span.value.from);

  const marks = computed(() =>
    run.value ? clockMarks(run.value, atoms.bit.value, shownStrobe.value?.time) : [],
  );

  /** The last full judgement of another design than this one, at the strobe and threshold that it had. */
  const before = computed(() => {
    const kept = atoms.before.value;
    if (!kept || !atoms.beforeOn.value) return undefined;
    // Of a lesson's board only what was changed on it is compared with, not what stood there before it.
    const { history, lesson } = atoms;
    const here = lesson.value && history.value.past.slice(lesson.value.depth).map(physicsKey);
    if (here && !here.includes(physicsKey(kept.raw))) return undefined;
    const { strobe: at, detector } = kept.run.design;
    return { ...kept, strobe: strobeStateAt(kept.run, at.time, detector.threshold) };
  });
  /** V gained since `before`, as designed and at the corners; undefined while one of the two is not known. */
  const difference = computed(() => {
    const [now, then] = [strobe.value, before.value?.strobe];
    if (!now || !then || judgedIsOld.value) return undefined;
    const corners =
      now.corners && then.corners ? now.corners.margin.left - then.corners.margin.left : undefined;
    return { nominal: now.margin.left - then.margin.left, corners };
  });

  /** "Strobe 137 ns, 11.9 mV left; at the corners 15.9 mV short", for the live region. */
  const announcement = computed(() => {
    const now = shownStrobe.value;
    if (!now || judgedIsOld.value) return '';
    const left = (volts: number) =>
      volts < 0 ? `${formatQuantity(-volts, 'V', 3)} short` : `${formatQuantity(volts, 'V', 3)} left`;
    const corners = now.corners ? `; at the corners ${left(now.corners.margin.left)}` : '';
    return `Strobe ${formatQuantity(now.time, 's', 4)}, ${left(now.margin.left)}${corners}.`;
  });

  return {
    raw,
    design,
    faults,
    inForce,
    physics,
    whole,
    cycle,
    span,
    run,
    runIsOld,
    judged,
    judgedIsOld,
    fullyJudged,
    strobe,
    shownStrobe,
    sought,
    strobeFollows,
    verdict,
    core,
    instant,
    marks,
    before,
    difference,
    announcement,
  };
}

const UNKNOWN: Checked = { design: undefined, faults: [] };

/** The newest of the designs before that is not refused; each is checked once. */
function lastHeld({ history, checks }: Atoms): Design | undefined {
  const { past } = history.value;
  for (let i = past.length - 1; i >= 0; i--) {
    const design = checks.of(past[i]!)?.design;
    if (design) return design;
  }
  return undefined;
}

export type Derived = ReturnType<typeof derive>;
