import { z } from 'zod';
import type { Json } from '../engine/base/json-patch.ts';
import { designToJson } from '../engine/design/design-to-json.ts';
import { toJsonDocument } from '../engine/export/serialise.ts';
import { UNKNOWNS, type UnknownName } from '../engine/fitting/unknown-table.ts';
import { wholeKnowledge, type Knowledge } from '../engine/predict/knowledge.ts';
import { predict } from '../engine/predict/predict.ts';
import type { Prediction } from '../engine/predict/prediction.ts';
import { measureWords, PROCEDURE } from '../engine/predict/next/next-words.ts';
import { whatNext, type WhatNext } from '../engine/predict/next/what-next.ts';
import { designAsked, type OutlookRequest } from '../engine/predict/outlook.ts';
import { CAUTIONS } from '../engine/warnings/cautions.ts';
import type { WorkControl } from './capture-input.ts';
import { RequestError } from './request-error.ts';

const designSchema = z.record(z.string(), z.unknown());
const changesSchema = z.array(z.strictObject({ path: z.string().max(200), value: z.unknown() })).max(50);
const observedSchema = z.enum(['sense', 'amplifier']);
const name = z.enum(Object.keys(UNKNOWNS) as [UnknownName, ...UnknownName[]]);
const open = z.union([z.number().min(0), z.literal('infinite'), z.null()]);

/** What a fit answers as `known`. */
const knownSchema = z
  .strictObject({
    design: designSchema,
    values: z
      .array(
        z.strictObject({
          name,
          value: z.number(),
          deviation: open,
          before: open.optional(),
          bounds: z.strictObject({ low: z.number(), high: z.number() }),
        }),
      )
      .max(12),
    correlations: z.array(z.array(z.number().min(-1).max(1)).max(12)).max(12),
    captures: z
      .array(
        z.strictObject({
          label: z.string().max(200),
          observed: observedSchema,
          changes: changesSchema,
          from: z.number(),
          until: z.number(),
          samples: z.int().min(0),
          noise: z.number().min(0),
          missed: z.number().min(0),
        }),
      )
      .max(8),
  })
  .meta({ description: 'What a fit answers under this name: its design, values, correlations, captures.' });

/** From what is known: a fit's `known`, or a design of which nothing was measured. */
export const predictionRequestSchema = z.strictObject({
  known: knownSchema.optional(),
  design: designSchema.optional(),
  changes: changesSchema.optional().meta({
    description: 'What is to be otherwise, such as { "path": "/mat/rows", "value": 16 }.',
  }),
  observed: observedSchema.optional().meta({ description: 'Where the traces are told.' }),
});
export type PredictionFrame = z.infer<typeof predictionRequestSchema>;

/** What is asked, as the engine takes it. Refuses a frame with both, or neither, of `known` and `design`. */
export function outlookRequest(
  frame: PredictionFrame,
): Pick<OutlookRequest, 'changes' | 'observed'> & { readonly known: Knowledge } {
  const { known, design, changes, observed } = frame;
  if ((known === undefined) === (design === undefined))
    throw new RequestError(422, {
      code: 'rule',
      field: '/known',
      message: `A prediction must start from either "known" (of a fit) or "design"; received ${known === undefined ? 'neither' : 'both'}: give one of the two.`,
    });
  return {
    known: known === undefined ? wholeKnowledge({ design: design as Json }) : knowledgeIn(known),
    changes: (changes ?? []) as OutlookRequest['changes'],
    observed: observed ?? 'sense',
  };
}

function knowledgeIn({ values, correlations, ...known }: z.infer<typeof knownSchema>): Knowledge {
  const square =
    correlations.length === values.length && correlations.every((row) => row.length === values.length);
  if (!square)
    throw new RequestError(422, {
      code: 'rule',
      field: '/known/correlations',
      message: `Correlations must have a row and a column for each of the ${values.length} values; received ${correlations.length} rows: give them as the fit answered.`,
    });
  return {
    ...known,
    design: known.design as Json,
    captures: known.captures as Knowledge['captures'],
    correlations,
    values: values.map((value) => ({
      ...value,
      deviation: typeof value.deviation === 'number' ? value.deviation : Infinity,
      before: typeof value.before === 'number' ? value.before : undefined,
    })),
  };
}

export const runPrediction = (frame: PredictionFrame, control: WorkControl): Prediction =>
  predict({ ...outlookRequest(frame), ...control });

/** A prediction as JSON, SI. */
export const predictionJson = ({ design, ...found }: Prediction): string =>
  toJsonDocument({ design: designToJson(design), ...found });

/** What to measure next, with the name of the design that it is for. */
export function nextOf(frame: PredictionFrame, control: WorkControl): WhatNext & { readonly name: string } {
  const request = outlookRequest(frame);
  const { name } = designAsked(request.known, request.changes ?? []);
  return { name, ...whatNext({ ...request, ...control }) };
}

/** The ranked list as JSON, SI, each measurement with its words. */
export const nextJson = ({ ranked, ...found }: WhatNext): string =>
  toJsonDocument({
    ...found,
    ranked: ranked.map((each) => ({ ...measureWords(found, each), ...each })),
    procedure: PROCEDURE,
    cautions: CAUTIONS,
  });
