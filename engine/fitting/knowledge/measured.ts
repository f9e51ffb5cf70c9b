import type { Design } from '../../design/design.ts';
import type { MeasuredAt } from './knowledge.ts';

/** The conditions of a capture, read off the design under which it was taken. */
export const measuredAt = ({ drive, temperature, mat, winding }: Design, label: string): MeasuredAt => ({
  label,
  drive: drive.x.readAmplitude + drive.y.readAmplitude,
  rise: Math.max(drive.x.rise, drive.y.rise),
  temperature,
  cores: mat.rows * mat.columns,
  winding: winding.kind,
});
