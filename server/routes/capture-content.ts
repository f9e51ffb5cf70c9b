import type { CaptureFrame, CaptureInput, TraceFrame } from '../capture-input.ts';
import type { CaptureSource } from '../capture-source.ts';
import type { Context } from '../context.ts';
import { RequestError } from '../request-error.ts';

/** The captures of a request with their texts: given in it, or kept under a name. */
export async function withContents(
  context: Context,
  frames: readonly CaptureFrame[],
): Promise<CaptureInput[]> {
  const inputs: CaptureInput[] = [];
  for (const [i, frame] of frames.entries())
    inputs.push({ frame, content: await contentOf(context, frame, `/captures/${i}`, `Capture ${i + 1}`) });
  return inputs;
}

/** The text of one capture, or where it is kept: whoever works on it reads it. `field` and `what` name it in a refusal. */
export async function contentOf(
  context: Context,
  { text, saved }: TraceFrame,
  field: string,
  what: string,
): Promise<CaptureSource> {
  if (text !== undefined && saved === undefined) return text;
  if (saved !== undefined && text === undefined)
    return { name: saved, ...(await context.captures.locate(saved)) };
  throw new RequestError(422, {
    code: 'value',
    field,
    message: `${what} must have either text or saved (the name of a kept capture): give one of the two.`,
  });
}
