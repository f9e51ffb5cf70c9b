/** What a capture turned out to be before any physics is asked of it. */
export type CaptureVerdict = 'good enough' | 'only its shape' | 'not usable';

export type FindingCode =
  | 'flat'
  | 'no-signal'
  | 'current'
  | 'two-level'
  | 'clipped'
  | 'limited'
  | 'rectified'
  | 'other-place'
  | 'probe'
  | 'probe-or-place'
  | 'linear'
  | 'bandwidth'
  | 'coarse'
  | 'short'
  | 'edge'
  | 'late-start'
  | 'hum'
  | 'offset'
  | 'averaged';

/** One thing that the judge believes of a capture: what, on what evidence, and what to do; one sentence each or two. */
export interface Finding {
  readonly code: FindingCode;
  /** 'blocks': not usable as it is; 'shape': its size cannot be trusted; 'note': it is allowed for or to be known. */
  readonly weight: 'blocks' | 'shape' | 'note';
  readonly belief: string;
  readonly evidence: string;
  readonly remedy: string;
  /** The number behind it, SI: factor of the probe, Hz of bandwidth, V of offset or hum, share of clipped samples. */
  readonly size: number;
}

export interface Judgement {
  readonly verdict: CaptureVerdict;
  /** One sentence or two. */
  readonly statement: string;
  readonly findings: readonly Finding[];
  /** What the file says over what is there, as believed: 1 unless a probe's factor was found. */
  readonly probe: number;
  /** Hz of whatever is slower than predicted, as believed; Infinity: nothing shows. */
  readonly bandwidth: number;
  /** 1 for each sample that stands at the end of a range and is left out of every comparison and fit. */
  readonly clipped: Uint8Array;
}

/** The verdict that findings lead to, in a sentence. */
export function concludeJudgement(findings: readonly Finding[]): Pick<Judgement, 'verdict' | 'statement'> {
  const blocks = findings.find((f) => f.weight === 'blocks');
  if (blocks !== undefined)
    return {
      verdict: 'not usable',
      statement: `Not usable as it is: ${lower(blocks.belief)} ${blocks.remedy}`,
    };
  const shape = findings.find((f) => f.weight === 'shape');
  if (shape !== undefined)
    return {
      verdict: 'only its shape',
      statement: `Only its shape can be used: ${lower(shape.belief)} ${shape.remedy}`,
    };
  return { verdict: 'good enough', statement: ['Good enough.', ...findings.map((f) => f.belief)].join(' ') };
}

const lower = (text: string): string => text.charAt(0).toLowerCase() + text.slice(1);
