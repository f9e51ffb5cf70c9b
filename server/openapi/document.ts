import { z } from 'zod';
import { createDocument } from 'zod-openapi';
import type { ZodOpenApiPathsObject } from 'zod-openapi';
import { VERSION } from '../../engine/base/version.ts';
import { designJsonSchema } from '../../engine/design/schema/design-schema.ts';
import { needsJsonSchema } from '../../engine/propose/needs.ts';
import { STUDY_KINDS } from '../../engine/studies/shared/shape.ts';
import { studyMeaning, studyOptionsSchema } from '../../engine/studies/study-options.ts';
import { diagnosisRequestSchema, fitRequestSchema } from '../capture-input.ts';
import type { Limits } from '../limits.ts';
import { predictionRequestSchema } from '../prediction-input.ts';
import { calculationPaths } from './calculation-paths.ts';
import { jobPaths } from './job-paths.ts';
import { savedPaths } from './saved-paths.ts';
import { sourcePaths } from './source-paths.ts';

/** The OpenAPI document, made from the schemas that the requests are checked with. */
export function openApiDocument(limits: Limits): object {
  const design = hoistDefinitions('Design', designJsonSchema());
  const needs = hoistDefinitions('Needs', needsJsonSchema());
  const document = createDocument({
    openapi: '3.1.1',
    info: {
      title: 'Strobewright',
      version: VERSION,
      description:
        `SI numbers throughout; an infinite value is the text "infinite". A JSON body may have ${limits.jsonBytes} ` +
        `bytes; one run may cost ${limits.singleWork} class-steps, a study ${limits.jobWork}; ` +
        `${limits.requestsPerMinute} requests a minute are answered to one client.`,
    },
    paths: paths(),
    components: {
      schemas: {
        Design: design.schema as never,
        Needs: needs.schema as never,
        ...(design.definitions as Record<string, never>),
        ...(needs.definitions as Record<string, never>),
        ...studySchemas(),
      },
    },
  });
  return document;
}

/** A study's request, one form for each kind, and the options of each by the schema that checks them. */
function studySchemas(): Record<string, never> {
  const options = STUDY_KINDS.map((kind) => {
    const { $schema: _, ...schema } = studyOptionsSchema(kind);
    return [`StudyOptions.${kind}`, schema] as const;
  });
  const forms = STUDY_KINDS.map((kind) => ({
    title: kind,
    description: studyMeaning(kind),
    type: 'object',
    properties: {
      kind: { const: kind },
      design: { $ref: '#/components/schemas/Design' },
      options: { $ref: `#/components/schemas/StudyOptions.${kind}` },
    },
    required: ['kind', 'design'],
    additionalProperties: false,
  }));
  return Object.fromEntries([...options, ['StudyRequest', { oneOf: forms }]]) as Record<string, never>;
}

/** Moves a JSON Schema's own definitions to where an OpenAPI document keeps them. */
function hoistDefinitions(
  kind: string,
  source: object,
): { schema: object; definitions: Record<string, object> } {
  const text = JSON.stringify(source).replaceAll('"#/$defs/', `"#/components/schemas/${kind}.`);
  const { $defs = {}, $schema: _, $id: __, ...schema } = JSON.parse(text) as Record<string, object>;
  const named = Object.entries($defs).map(
    ([name, definition]) => [`${kind}.${name}`, definition as object] as const,
  );
  return { schema, definitions: Object.fromEntries(named) };
}

function paths(): ZodOpenApiPathsObject {
  return {
    ...calculationPaths(),
    ...jobPaths('/api/v1/studies', 'Start a study', { $ref: '#/components/schemas/StudyRequest' }),
    ...jobPaths(
      '/api/v1/advices',
      'Start a window with advice: what uses the margin up and the smallest change of each input',
      z.looseObject({}).meta({ description: 'A design.' }),
    ),
    ...jobPaths(
      '/api/v1/proposals',
      'Start a search for builds that meet needs; of a cancelled one the result is the best until then',
      { $ref: '#/components/schemas/Needs' },
    ),
    ...jobPaths('/api/v1/fits', 'Start a fit of a design to captures', fitRequestSchema),
    ...jobPaths(
      '/api/v1/next-captures',
      'Start a ranking of what to measure next, by how far each narrows the interval of the margin',
      predictionRequestSchema,
    ),
    ...jobPaths(
      '/api/v1/predictions',
      'Start a prediction with intervals: another size, current, temperature or winding from what a fit told',
      predictionRequestSchema,
    ),
    ...jobPaths(
      '/api/v1/diagnoses',
      'Start a diagnosis of captures by single faults',
      diagnosisRequestSchema,
    ),
    ...savedPaths('/api/v1/designs/saved', 'design', 'application/json', {
      $ref: '#/components/schemas/Design',
    }),
    ...savedPaths('/api/v1/captures', 'capture', 'text/csv', z.string()),
    ...sourcePaths(),
  };
}
