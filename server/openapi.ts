import { z } from 'zod';
import { createDocument } from 'zod-openapi';
import type { ZodOpenApiOperationObject, ZodOpenApiPathsObject } from 'zod-openapi';
import { VERSION } from '../engine/base/version.ts';
import { designJsonSchema } from '../engine/design/schema/design-schema.ts';
import { needsJsonSchema } from '../engine/propose/needs.ts';
import { STUDY_KINDS } from '../engine/studies/shared/shape.ts';
import { studyMeaning, studyOptionsSchema } from '../engine/studies/study-options.ts';
import { CONTRIBUTIONS } from '../engine/network/causes.ts';
import { diagnosisRequestSchema, fitRequestSchema } from './capture-input.ts';
import { jigCapturesSchema } from './jig-input.ts';
import type { Limits } from './limits.ts';

const numbers = z.array(z.number());
const byContribution = <Item extends z.ZodType>(item: Item) =>
  z.object(Object.fromEntries(CONTRIBUTIONS.map((name) => [name, item])));

const errorSchema = z
  .strictObject({
    code: z.string().meta({ description: 'A stable word that a program can test.' }),
    field: z.string().nullable().meta({ description: 'JSON pointer to the field at fault.' }),
    message: z
      .string()
      .meta({ description: 'One sentence: what, requirement with unit, value received, remedy.' }),
    limit: z.union([z.number(), z.string()]).nullable().meta({ description: 'The limit that was passed.' }),
  })
  .meta({ id: 'Error' });

const simulationSchema = z
  .object({
    version: z.string(),
    design: z.looseObject({}).meta({ description: 'The checked design, complete, SI.' }),
    outcome: z.looseObject({ kind: z.string() }),
    time: numbers.meta({ description: 's from the start of the observed read.' }),
    senseVoltage: numbers.meta({ description: 'V' }),
    commonMode: numbers.meta({ description: 'V' }),
    contributions: byContribution(numbers).nullable().meta({ description: 'V; they sum to senseVoltage.' }),
    amplifierOutput: numbers.meta({ description: 'V' }),
    detectorOutput: z.array(z.union([z.literal(0), z.literal(1)])),
    currents: z
      .object({ x: numbers, y: numbers, inhibit: numbers, sense: numbers })
      .meta({ description: 'A' }),
    selectedFlux: numbers.meta({ description: 'Wb' }),
    selectedState: numbers.meta({ description: 'Wb' }),
    selectedDrive: numbers.meta({ description: 'A' }),
    strobe: z.looseObject({
      time: z.number(),
      threshold: z.number(),
      bit: z.union([z.literal(0), z.literal(1)]),
    }),
    energy: z.object({
      source: z.number(),
      resistive: z.number(),
      stored: z.number(),
      cores: z.number(),
      residual: z.number(),
      delivered: z.number(),
    }),
    fluxClosure: z.number(),
    error: z.looseObject({ senseVoltage: z.number() }).nullable().meta({ description: 'V, estimated.' }),
    method: z.looseObject({}),
  })
  .meta({ id: 'Simulation' });

const windowSchema = z
  .looseObject({
    version: z.string(),
    verdict: z
      .looseObject({
        design: z.enum(['reads', 'short', 'fails']),
        decides: z.string(),
        sets: z.looseObject({}),
      })
      .meta({ description: 'The worst over the sets that the design asks for, and each set by itself.' }),
    chain: z.array(z.looseObject({ step: z.string(), volts: z.number() })).meta({
      description: 'From the signal of the selected core to the margin that is left, V; it sums up.',
    }),
    ledger: z
      .array(z.looseObject({ field: z.string(), from: z.string() }))
      .meta({ description: 'What decides the answer and was not measured.' }),
    reason: z.string().nullable().meta({ description: 'Why there is no window; null when there is one.' }),
    strobe: z
      .looseObject({ start: z.number(), end: z.number(), width: z.number(), best: z.number() })
      .nullable(),
    threshold: z.looseObject({ low: z.number(), high: z.number(), best: z.number() }).nullable(),
    margin: z
      .looseObject({})
      .meta({ description: 'V, and the ratio in dB (the text "infinite" to nothing).' }),
    taps: z.array(z.looseObject({ time: z.number(), pass: z.boolean() })),
    errorChance: z.number(),
    atStrobe: z.looseObject({ one: byContribution(z.number()), zero: byContribution(z.number()) }),
    cases: z.array(z.looseObject({})),
  })
  .meta({ id: 'StrobeWindow' });

const channelSchema = z
  .object({
    version: z.string(),
    design: z.looseObject({}).meta({ description: 'The checked design, complete, SI.' }),
    disturb: z.looseObject({}).meta({ description: 'uV1, dV1, uVz, dVz, the worst histories: V, s, Wb.' }),
    recovery: z
      .looseObject({})
      .meta({ description: 'Tail of the inhibit, and what the next strobe hears: s, V.' }),
    words: z.looseObject({}).meta({ description: 'ONE and ZERO against the ONEs in the word.' }),
    supply: z.array(z.looseObject({ rate: z.number(), allZeros: z.number(), inTime: z.boolean() })),
    build: z.looseObject({}).meta({ description: 'Drivers, cores, charge a cycle, rates.' }),
  })
  .meta({ id: 'Channel' });

const jobSchema = z
  .strictObject({
    id: z.string(),
    kind: z.string(),
    state: z.enum(['queued', 'running', 'done', 'cancelled', 'failed']),
    done: z.number().meta({ description: 'Points, iterations of a fit or faults of a diagnosis done.' }),
    planned: z
      .number()
      .meta({ description: 'As many are planned (of a fit: at most); 0 until that is known.' }),
    share: z
      .number()
      .meta({ description: 'Share of the points that is done, with parts of those under way.' }),
    elapsed: z.number().meta({ description: 's' }),
    remaining: z.number().nullable().meta({ description: 's still needed at the pace so far.' }),
    hasResult: z.boolean(),
    error: errorSchema.nullable(),
  })
  .meta({ id: 'Job' });

const quantity = z.string().max(40);
const handbookSchema = z.looseObject({
  fullDrive: quantity.meta({ example: '740 mA' }),
  rise: quantity.meta({ example: '50 ns' }),
  peakOne: quantity.meta({ example: '50 mV' }),
  peakTime: quantity.meta({ example: '125 ns' }),
  switchTime: quantity.meta({ example: '235 ns' }),
  outsideDiameter: quantity.meta({ example: '20 mil' }),
  insideDiameter: quantity.meta({ example: '12 mil' }),
  height: quantity.meta({ example: '5 mil' }),
});
const jigSchema = handbookSchema
  .omit({ peakOne: true, peakTime: true, switchTime: true })
  .extend({ captures: jigCapturesSchema })
  .meta({ description: 'A core on a jig: the rest is read off its captures.' });

const json = (schema: z.ZodType | object) => ({
  content: { 'application/json': { schema: schema as z.ZodType } },
});
const refusal = (description: string) => ({ description, ...json(errorSchema) });
const ok = (description: string, schema: z.ZodType | object) => ({ description, ...json(schema) });
const designBody = { required: true, ...json({ $ref: '#/components/schemas/Design' }) };
const jobId = z.object({ id: z.uuid() });
const word = (...words: [string, ...string[]]) => z.enum(words).optional();

const heavy = {
  '413': refusal('The body is too large.'),
  '415': refusal('The body is not application/json.'),
  '422': refusal('The design or its price is refused.'),
  '429': refusal('Too many requests a minute.'),
  '503': refusal('Too many are waiting; Retry-After says when to try again.'),
};

function operation(tag: string, summary: string, rest: Omit<ZodOpenApiOperationObject, 'tags' | 'summary'>) {
  return { tags: [tag], summary, ...rest };
}

/** The addresses of one kind of job. */
function jobPaths(path: string, summary: string, body: z.ZodType | object): ZodOpenApiPathsObject {
  const events = { 'text/event-stream': { schema: z.string() } };
  return {
    [path]: {
      post: operation('Jobs', summary, {
        requestBody: { required: true, ...json(body) },
        responses: { '202': ok('Accepted.', jobSchema), '400': refusal('Not JSON.'), ...heavy },
      }),
    },
    [`${path}/{id}`]: {
      get: operation('Jobs', 'State of a job', {
        requestParams: { path: jobId },
        responses: { '200': ok('The job.', jobSchema), '404': refusal('Unknown.') },
      }),
      delete: operation('Jobs', 'Cancel a job, or forget an ended one', {
        requestParams: { path: jobId },
        responses: { '200': ok('The job.', jobSchema), '404': refusal('Unknown.') },
      }),
    },
    [`${path}/{id}/result`]: {
      get: operation('Jobs', 'Result of a job; of a cancelled study what was done, marked partial', {
        requestParams: { path: jobId },
        responses: {
          '200': ok('The result.', z.looseObject({})),
          '404': refusal('Unknown.'),
          '409': refusal('No result yet.'),
        },
      }),
    },
    [`${path}/{id}/events`]: {
      get: operation('Jobs', 'Progress as server-sent events', {
        requestParams: { path: jobId },
        responses: {
          '200': { description: '`progress`, and one last `end`.', content: events },
          '404': refusal('Unknown.'),
        },
      }),
    },
  };
}

/** The addresses of one kind of saved work. */
function savedPaths(
  path: string,
  what: string,
  type: string,
  schema: z.ZodType | object,
): ZodOpenApiPathsObject {
  const name = z.object({ name: z.string().min(1).max(100) });
  const file = { [type]: { schema: schema as z.ZodType } };
  const entry = z.object({
    name: z.string(),
    version: z.number(),
    versions: z.array(z.number()),
    saved: z.string(),
    bytes: z.number(),
  });
  return {
    [path]: {
      get: operation('Saved work', `Every ${what} that is kept`, {
        responses: { '200': ok('The list.', z.array(entry)) },
      }),
    },
    [`${path}/{name}`]: {
      get: operation('Saved work', `The newest version of a ${what}`, {
        requestParams: { path: name },
        responses: {
          '200': { description: 'The file; ETag is its version.', content: file },
          '404': refusal('Unknown.'),
        },
      }),
      put: operation('Saved work', `Keep a ${what}: adds a version`, {
        requestParams: { path: name, header: z.object({ 'If-Match': z.string().optional() }) },
        requestBody: { required: true, content: file },
        responses: {
          '200': ok('A version more.', z.object({ name: z.string(), version: z.number() })),
          '201': ok('The first version.', z.object({ name: z.string(), version: z.number() })),
          '400': refusal('Not readable.'),
          '412': refusal('Another version is the newest.'),
          ...heavy,
        },
      }),
      delete: operation('Saved work', `Forget a ${what} with all its versions`, {
        requestParams: { path: name },
        responses: { '204': { description: 'Gone.' }, '404': refusal('Unknown.') },
      }),
    },
    [`${path}/{name}/versions/{version}`]: {
      get: operation('Saved work', `One version of a ${what}`, {
        requestParams: { path: name.extend({ version: z.int().min(1) }) },
        responses: { '200': { description: 'The file.', content: file }, '404': refusal('Unknown.') },
      }),
    },
  };
}

function paths(): ZodOpenApiPathsObject {
  const format = word('json', 'csv');
  const flag = word('true', 'false');
  return {
    '/api/v1/simulations': {
      post: operation('Calculate', 'Traces of a design', {
        requestParams: {
          query: z.object({ format, contributions: flag, estimateError: flag, spectrum: flag }),
        },
        requestBody: designBody,
        responses: { '200': ok('The run.', simulationSchema), '400': refusal('Not JSON.'), ...heavy },
      }),
    },
    '/api/v1/windows': {
      post: operation('Calculate', 'Strobe window of a design', {
        requestParams: { query: z.object({ format, advice: flag }) },
        requestBody: designBody,
        responses: {
          '200': ok('The window, or why there is none.', windowSchema),
          '400': refusal('Not JSON.'),
          ...heavy,
        },
      }),
    },
    '/api/v1/channels': {
      post: operation('Calculate', 'Disturbed readings, recovery, words, drivers and supply of a design', {
        requestBody: designBody,
        responses: {
          '200': ok('The channel beside one read.', channelSchema),
          '400': refusal('Not JSON.'),
          ...heavy,
        },
      }),
    },
    '/api/v1/reports': {
      post: operation('Calculate', 'Printable report of a design', {
        requestBody: designBody,
        responses: {
          '200': {
            description: 'One self-contained document.',
            content: { 'text/html': { schema: z.string() } },
          },
          '400': refusal('Not JSON.'),
          ...heavy,
        },
      }),
    },
    '/api/v1/packs': {
      post: operation(
        'Calculate',
        'What a design is built from: threading, timing, parts, measurements on one core, test plan',
        {
          requestParams: {
            query: z.object({
              format: z.enum(['json', 'html']).optional().meta({
                description: 'json (all, with every file as text) or html (the document to print).',
              }),
            }),
          },
          requestBody: designBody,
          responses: {
            '200': {
              description: 'The build pack.',
              content: {
                'application/json': {
                  schema: z.looseObject({ version: z.string(), files: z.record(z.string(), z.string()) }),
                },
                'text/html': { schema: z.string() },
              },
            },
            '400': refusal('Not JSON, or a bad parameter.'),
            ...heavy,
          },
        },
      ),
    },
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
      '/api/v1/diagnoses',
      'Start a diagnosis of captures by single faults',
      diagnosisRequestSchema,
    ),
    ...savedPaths('/api/v1/designs/saved', 'design', 'application/json', {
      $ref: '#/components/schemas/Design',
    }),
    ...savedPaths('/api/v1/captures', 'capture', 'text/csv', z.string()),
    '/api/v1/cores': {
      get: operation('Cores', 'Cores to start from', {
        responses: {
          '200': ok(
            'Presets (SI) and handbook files.',
            z.object({ presets: z.array(z.looseObject({})), handbook: z.array(z.looseObject({})) }),
          ),
        },
      }),
      post: operation('Cores', 'Model parameters from handbook values, or from captures of a core on a jig', {
        requestBody: { required: true, ...json(z.union([handbookSchema, jigSchema])) },
        responses: {
          '200': ok('Parameters and comparison, SI.', z.looseObject({})),
          '400': refusal('Not JSON.'),
          ...heavy,
        },
      }),
    },
    '/api/v1/designs/demo': {
      get: operation('Designs', 'Demo designs, all invented', {
        responses: {
          '200': ok('The list.', z.array(z.object({ id: z.string(), name: z.string(), note: z.string() }))),
        },
      }),
    },
    '/api/v1/designs/demo/{id}': {
      get: operation('Designs', 'One demo design as a design file', {
        requestParams: { path: z.object({ id: z.string() }) },
        responses: { '200': ok('The file.', z.looseObject({})), '404': refusal('Unknown.') },
      }),
    },
    '/api/v1/schema': {
      get: operation('Designs', 'JSON Schema of a design', {
        responses: { '200': ok('The schema.', z.looseObject({})) },
      }),
    },
    '/healthz': {
      get: operation('Server', 'Is the server there?', {
        responses: { '200': ok('It is.', z.object({ status: z.literal('ok'), version: z.string() })) },
      }),
    },
  };
}

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
