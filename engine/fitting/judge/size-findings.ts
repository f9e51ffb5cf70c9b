import type { Finding } from './judgement.ts';
import type { Laid } from './laid.ts';

/** What the capture is laid on: what it was said to be of, and what else it could be of. */
export interface Readings {
  /** On what was said. */
  readonly stated: Laid;
  /** On the voltage at the other place, sense wire or amplifier; and on both with their signs folded up. */
  readonly other: Laid | undefined;
  readonly folded: readonly Laid[];
  /** On the drive currents. */
  readonly currents: readonly Laid[];
  /** Volts at the amplifier for each at the sense wire. */
  readonly amplification: number;
  readonly observed: 'sense' | 'amplifier';
}

/** Ratios of a probe's factor that was not told to the instrument, or told twice. */
const FACTORS = [0.001, 0.01, 0.1, 10, 100, 1000];
/** A gain this near to one of them, as a factor, with a shape this much alike, is believed to be one. */
const NEAR = 1.45;
export const ALIKE = 0.8;
/** Another reading must leave less than this share of what the stated one leaves. */
const DECISIVE = 0.5;
/** A current is flat where a sense voltage is not: it must lie this well. */
const A_CURRENT = 0.95;

const near = (gain: number, factor: number): boolean =>
  Math.abs(Math.log(Math.abs(gain) / factor)) < Math.log(NEAR);
const two = (v: number): string => String(Number(v.toPrecision(2)));

/** It looks like a drive current, though it is in volts. */
export function likeACurrent({ stated, currents }: Readings): Finding | undefined {
  const best = currents.toSorted((a, b) => a.left - b.left).at(0);
  if (best === undefined || Math.abs(best.coefficient) < A_CURRENT || best.left > DECISIVE * stated.left)
    return undefined;
  return {
    code: 'current',
    weight: 'blocks',
    belief: 'It has the shape of a drive current, not of a sense voltage.',
    evidence: `Its correlation with the drive current is ${Math.abs(best.coefficient).toFixed(3)}, with what was predicted ${Math.abs(stated.coefficient).toFixed(3)}.`,
    remedy: 'Choose the trace of the sense wire.',
    size: best.coefficient,
  };
}

/** One sign only, where a prediction of both signs was expected. */
export function rectified({ stated, folded }: Readings): Finding | undefined {
  const best = folded.toSorted((a, b) => a.left - b.left).at(0);
  if (best === undefined || best.gain < 0 || best.left > DECISIVE * stated.left) return undefined;
  return {
    code: 'rectified',
    weight: 'blocks',
    belief: 'It has one sign only, as the output of a rectifying amplifier has.',
    evidence: `The prediction with both signs folded up leaves ${Math.round((100 * best.left) / stated.left)} % of what the prediction itself leaves.`,
    remedy:
      'Capture before the rectifier; or, where the amplifier of the design rectifies too, say that the probe was at the amplifier.',
    size: best.left / stated.left,
  };
}

/** Of the other place than was said: the amplifier's output for the sense wire, or the other way round. */
export function otherPlace(readings: Readings): Finding | undefined {
  const { stated, other, observed, amplification } = readings;
  if (other === undefined || near(stated.gain, 1)) return undefined;
  const expected = observed === 'sense' ? amplification : 1 / amplification;
  const decisive = other.left < DECISIVE * stated.left;
  const bySize = Math.abs(stated.coefficient) >= ALIKE && near(stated.gain, expected);
  const byShape = decisive && near(other.gain, 1) && Math.abs(other.coefficient) >= ALIKE;
  // A gain that a probe explains as well must be decided by the shape.
  const probe = FACTORS.some((f) => near(stated.gain, f));
  if (!byShape && !(bySize && (decisive || !probe))) return undefined;
  const [is, said] = observed === 'sense' ? ['amplifier', 'sense wire'] : ['sense wire', 'amplifier'];
  return {
    code: 'other-place',
    weight: 'blocks',
    belief: `It is the voltage at the ${is}, not at the ${said}.`,
    evidence: `It is ${two(Math.abs(stated.gain))} times what was predicted there, and the amplifier's gain is ${two(amplification)}.`,
    remedy: `Say that the probe was at the ${is}.`,
    size: Math.abs(stated.gain),
  };
}

/** Of both signs, where the amplifier of the design rectifies. */
export function linear({ stated, other, observed, amplification }: Readings): Finding | undefined {
  if (observed !== 'amplifier' || other === undefined || !near(other.gain, amplification)) return undefined;
  if (other.left > DECISIVE * stated.left || Math.abs(other.coefficient) < ALIKE) return undefined;
  return {
    code: 'linear',
    weight: 'blocks',
    belief: "It has both signs, as an amplifier's output has before the rectifier that the design names.",
    evidence: `The sense voltage ${two(Math.abs(other.gain))} times over leaves ${Math.round((100 * other.left) / stated.left)} % of what the rectified prediction leaves.`,
    remedy: 'Say for this capture that the amplifier goes by the address (amplifier.polarity "address").',
    size: other.left / stated.left,
  };
}

/** A probe's factor that was not told to the instrument. */
export function probeFactor({
  stated: { gain, coefficient },
  amplification,
  observed,
}: Readings): { readonly factor: number; readonly finding: Finding } | undefined {
  if (Math.abs(coefficient) < ALIKE) return undefined;
  const factor = FACTORS.find((f) => near(gain, f));
  if (factor === undefined) return undefined;
  const times = factor > 1 ? `${factor} times too large` : `${Math.round(1 / factor)} times too small`;
  const either = near(gain, observed === 'sense' ? amplification : 1 / amplification);
  return {
    factor,
    finding: {
      code: either ? 'probe-or-place' : 'probe',
      weight: 'shape',
      belief: either
        ? `It is ${times}: the factor of a probe was not taken into account, or it is the voltage on the other side of the amplifier, whose gain is as much.`
        : `It is ${times}: the factor of a probe was not taken into account.`,
      evidence: `Its shape agrees with the prediction (correlation ${Math.abs(coefficient).toFixed(2)}) at a gain of ${two(Math.abs(gain))}.`,
      remedy: `It is divided by ${factor} and its exact gain left open; state the factor of the probe to be sure.`,
      size: factor,
    },
  };
}
