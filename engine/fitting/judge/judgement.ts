/** What a capture turned out to be before any physics is asked of it. */
export type CaptureVerdict = 'good enough' | 'only its shape' | 'not usable';

export type FindingCode =
  | 'current'
  | 'two-level'
  | 'clipped'
  | 'limited'
  | 'rectified'
  | 'probe'
  | 'bandwidth'
  | 'coarse'
  | 'short'
  | 'late-start'
  | 'hum'
  | 'offset'
  | 'averaged'
  | 'faint';

/** One thing that the judge believes of a capture. */
export interface Finding {
  readonly code: FindingCode;
  /** 'blocks': not usable; 'shape': its size cannot be trusted; 'note': it is allowed for. */
  readonly weight: 'blocks' | 'shape' | 'note';
  /** What is believed, on what evidence, and what to do: one sentence each. */
  readonly belief: string;
  readonly evidence: string;
  readonly remedy: string;
  /** The number behind it, SI: factor of the probe, Hz of bandwidth, V of offset or hum, share of clipped samples. */
  readonly size: number;
}

export interface Judgement {
  readonly verdict: CaptureVerdict;
  /** One sentence. */
  readonly statement: string;
  readonly findings: readonly Finding[];
  /** What the file says over what is there, as believed: 1 unless a probe factor was found. */
  readonly probe: number;
  /** Hz of the instrument as believed; Infinity: it does not show. */
  readonly bandwidth: number;
  /** Samples that stand at the end of the instrument's range and are left out of every fit: 1 where so. */
  readonly clipped: Uint8Array;
}

/** The verdict that findings lead to, in a sentence. */
export function concludeJudgement(findings: readonly Finding[]): Pick<Judgement, 'verdict' | 'statement'> {
  const blocks = findings.filter((f) => f.weight === 'blocks');
  const shape = findings.filter((f) => f.weight === 'shape');
  if (blocks.length > 0)
    return { verdict: 'not usable', statement: `Not usable: ${lower(blocks[0].belief)} ${blocks[0].remedy}` };
  if (shape.length > 0)
    return {
      verdict: 'only its shape',
      statement: `Only its shape can be used: ${lower(shape[0].belief)} ${shape[0].remedy}`,
    };
  const more = findings.length === 0 ? '' : ` ${findings.map((f) => f.belief).join(' ')}`;
  return { verdict: 'good enough', statement: `Good enough.${more}` };
}

const lower = (text: string): string => text.charAt(0).toLowerCase() + text.slice(1);
