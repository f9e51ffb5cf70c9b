import type { Sent } from './http-client.ts';

/** A request that must be refused, with the status and code that it must get. */
export interface BadRequest {
  readonly name: string;
  readonly path: string;
  readonly sent: Sent;
  readonly status: number;
  readonly code: string;
  /** JSON pointer that must be named, where one is at fault. */
  readonly field?: string;
}

const JSON_TYPE = { 'Content-Type': 'application/json' };
const post = (body: string, headers: Readonly<Record<string, string>> = JSON_TYPE): Sent => ({
  method: 'POST',
  headers,
  body,
});
const bad = (
  name: string,
  path: string,
  sent: Sent,
  status: number,
  code: string,
  field?: string,
): BadRequest => ({
  name,
  path,
  sent,
  status,
  code,
  field,
});

const DESIGN_DOORS = ['/api/v1/simulations', '/api/v1/windows'];
const UNKNOWN_JOB = '/api/v1/studies/00000000-0000-4000-8000-000000000000';

/** Texts that are not JSON. */
const NOT_JSON = [
  '',
  ' ',
  '{',
  '}',
  '[',
  '{"mat":',
  '{"mat":{}',
  '{"mat":{"rows":4,}}',
  "{'mat':{}}",
  '{mat:{}}',
  '{"mat":{}}{"mat":{}}',
  'undefined',
  'NaN',
  'Infinity',
  '{"rows":NaN}',
  '{"rows":0x10}',
  '{"rows":01}',
  '{"rows":+1}',
  '{"rows":1.}',
  '{"a":"\u0001"}',
  '{"a":"\\u12"}',
  '// a comment\n{}',
  '<mat rows="4"/>',
  'mat=4',
  '\u0000',
  '['.repeat(50_000),
];

/** JSON that is no design: path of the fault that must be named, or undefined where the whole is at fault. */
const NO_DESIGN: readonly (readonly [string, string | undefined])[] = [
  ['null', ''],
  ['true', ''],
  ['0', ''],
  ['1e999', ''],
  ['"370 mA"', ''],
  ['[]', ''],
  ['[{}]', ''],
  [`${'['.repeat(20_000)}${']'.repeat(20_000)}`, undefined],
  ['{"colour":"red"}', '/colour'],
  ['{"__proto__":{"rows":4}}', '/__proto__'],
  ['{"constructor":{}}', '/constructor'],
  ['{"prototype":1}', '/prototype'],
  ['{"toString":"x"}', '/toString'],
  ['{"mat":null}', '/mat'],
  ['{"mat":[]}', '/mat'],
  ['{"mat":"8x8"}', '/mat'],
  ['{"mat":{"rows":0,"columns":4}}', '/mat/rows'],
  ['{"mat":{"rows":-1,"columns":4}}', '/mat/rows'],
  ['{"mat":{"rows":4.5,"columns":4}}', '/mat/rows'],
  ['{"mat":{"rows":257,"columns":4}}', '/mat/rows'],
  ['{"mat":{"rows":1e308,"columns":4}}', '/mat/rows'],
  ['{"mat":{"rows":1e999,"columns":4}}', '/mat/rows'],
  ['{"mat":{"rows":"4","columns":4}}', '/mat/rows'],
  ['{"mat":{"rows":null,"columns":4}}', '/mat/rows'],
  ['{"mat":{"rows":[4],"columns":4}}', '/mat/rows'],
  ['{"mat":{"rows":4,"columns":4,"depth":1}}', '/mat/depth'],
  ['{"mat":{"rows":4,"columns":4,"pitch":1}}', '/mat/pitch'],
  ['{"mat":{"rows":4,"columns":4,"pitch":"1 V"}}', '/mat/pitch'],
  ['{"mat":{"rows":4,"columns":4,"pitch":""}}', '/mat/pitch'],
  ['{"mat":{"rows":4,"columns":4,"pitch":"mm"}}', '/mat/pitch'],
  ['{"mat":{"rows":4,"columns":4,"pitch":"-1 mm"}}', '/mat/pitch'],
  ['{"mat":{"rows":4,"columns":4,"pitch":"1e999 mm"}}', '/mat/pitch'],
  [`{"mat":{"rows":4,"columns":4,"pitch":"${'9'.repeat(1000)} mm"}}`, '/mat/pitch'],
  [`{"mat":{"rows":4,"columns":4,"pitch":"1 ${'m*'.repeat(5000)}m"}}`, '/mat/pitch'],
  ['{"temperature":25}', '/temperature'],
  ['{"temperature":"25 V"}', '/temperature'],
  ['{"temperature":{}}', '/temperature'],
  ['{"winding":{"kind":"spiral"}}', '/winding/kind'],
  ['{"winding":{"kind":1}}', '/winding/kind'],
  ['{"name":1}', '/name'],
  ['{"name":["a"]}', '/name'],
  ['{"name":{"toString":1}}', '/name'],
  ['{"detector":{"threshold":20}}', '/detector/threshold'],
  ['{"detector":{"threshold":"20 mA"}}', '/detector/threshold'],
  ['{"detector":{"threshold":"twenty mV"}}', '/detector/threshold'],
  ['{"drive":{"x":{"rise":"40"}}}', '/drive/x/rise'],
  ['{"drive":{"x":{"rise":40}}}', '/drive/x/rise'],
  ['{"drive":{"x":{"rise":"40 ms"}}}', '/drive/x/rise'],
  ['{"drive":{"x":null}}', '/drive/x'],
  ['{"drive":{"z":{}}}', '/drive/z'],
  ['{"numerics":{"sections":1e9}}', '/numerics/sections'],
  ['{"numerics":{"step":"1 as"}}', '/numerics/step'],
  ['{"selected":{"row":99,"column":0}}', '/selected/row'],
  ['{"selected":{"row":-1,"column":0}}', '/selected/row'],
  ['{"selected":{"row":0,"column":0,"bit":2}}', '/selected/bit'],
  ['{"programme":{}}', '/programme'],
  ['{"exceptions":{}}', '/exceptions'],
];

const METHODS: readonly (readonly [string, string])[] = [
  ['PUT', '/api/v1/simulations'],
  ['PATCH', '/api/v1/simulations'],
  ['DELETE', '/api/v1/simulations'],
  ['GET', '/api/v1/simulations'],
  ['GET', '/api/v1/windows'],
  ['DELETE', '/api/v1/windows'],
  ['PUT', '/api/v1/studies'],
  ['GET', '/api/v1/studies'],
  ['POST', '/api/v1/schema'],
  ['DELETE', '/api/v1/schema'],
  ['POST', '/api/v1/openapi.json'],
  ['PUT', '/api/v1/cores'],
  ['DELETE', '/api/v1/cores'],
  ['POST', '/api/v1/designs/demo'],
  ['DELETE', '/api/v1/designs/demo/x'],
  ['POST', '/healthz'],
  ['PUT', UNKNOWN_JOB],
  ['POST', `${UNKNOWN_JOB}/events`],
  ['DELETE', `${UNKNOWN_JOB}/result`],
];

const UNKNOWN_PATHS = [
  '/api',
  '/api/v1',
  '/api/v2/simulations',
  '/api/v1/simulation',
  '/api/v1/simulations/1',
  '/api/v1/../../package.json',
  '/../../../../etc/passwd',
  '/..%2f..%2f..%2fetc%2fpasswd',
  '/%2e%2e/%2e%2e/etc/passwd',
  '/....//....//etc/passwd',
  '/.git/config',
  '/package.json',
  '/server/app.ts',
  '/dist/server/app.js',
  '/node_modules/express/package.json',
  '/api/docs/assets/../../package.json',
  '/api/docs/assets/index.js',
  '/api/docs/assets/package.json',
  '/api/v1/designs/demo/..%2f..%2fpackage',
  '/api/v1/designs/demo/__proto__',
  '/api/v1/designs/demo/constructor',
  '/api/v1/designs/demo/toString',
  '/api/v1/designs/demo/%00',
  `/api/v1/designs/demo/${'a'.repeat(5000)}`,
  UNKNOWN_JOB,
  `${UNKNOWN_JOB}/events`,
  `${UNKNOWN_JOB}/result`,
  '/api/v1/studies/__proto__',
  '/api/v1/studies/..%2f..',
  '/api/v1/studies/%F0%9F%94%94',
  '//elsewhere.example/x',
  '/\\..\\..\\package.json',
  '/healthz/more',
  '/%7e',
];

const STUDY_FRAMES: readonly (readonly [string, string])[] = [
  ['null', ''],
  ['[]', ''],
  ['{}', '/kind'],
  ['{"kind":"scale"}', '/design'],
  ['{"kind":"everything","design":{}}', '/kind'],
  ['{"kind":"__proto__","design":{}}', '/kind'],
  ['{"kind":1,"design":{}}', '/kind'],
  ['{"kind":"scale","design":null}', '/design'],
  ['{"kind":"scale","design":[]}', '/design'],
  ['{"kind":"scale","design":{},"options":1}', '/options'],
  ['{"kind":"scale","design":{},"workers":64}', ''],
];

const HEADERS: readonly BadRequest[] = [
  bad('no content type', DESIGN_DOORS[0], post('{}', {}), 415, 'unsupported-media-type'),
  bad(
    'an empty content type',
    DESIGN_DOORS[0],
    post('{}', { 'Content-Type': '' }),
    415,
    'unsupported-media-type',
  ),
  bad(
    'XML',
    DESIGN_DOORS[1],
    post('<a/>', { 'Content-Type': 'application/xml' }),
    415,
    'unsupported-media-type',
  ),
  bad(
    'an unknown character set',
    DESIGN_DOORS[0],
    post('{}', { 'Content-Type': 'application/json; charset=klingon' }),
    415,
    'unsupported-media-type',
  ),
  bad(
    'brotli that is none',
    DESIGN_DOORS[0],
    post('{}', { ...JSON_TYPE, 'Content-Encoding': 'br' }),
    415,
    'unsupported-media-type',
  ),
  bad('a foreign host', '/healthz', { headers: { Host: 'elsewhere.example' } }, 403, 'foreign-host'),
  bad('a host with a path', '/healthz', { headers: { Host: 'localhost/x' } }, 403, 'foreign-host'),
  bad(
    'a foreign origin',
    DESIGN_DOORS[0],
    post('{}', { ...JSON_TYPE, Origin: 'https://elsewhere.example' }),
    403,
    'cross-site',
  ),
  bad('a malformed origin', DESIGN_DOORS[0], post('{}', { ...JSON_TYPE, Origin: '::' }), 403, 'cross-site'),
  bad('an unfinished escape', '/api/v1/designs/demo/%', {}, 400, 'bad-request'),
  bad('an escape that is no UTF-8', '/api/v1/designs/demo/%ff', {}, 400, 'bad-request'),
  bad('an escape that is no UTF-8 in a job', '/api/v1/studies/%c0%ae', {}, 400, 'bad-request'),
];

const PARAMETERS: readonly (readonly [string, string])[] = [
  ['format=xml', 'bad-parameter'],
  ['format=', 'bad-parameter'],
  ['format=json&format=csv', 'bad-parameter'],
  ['format[a]=json', 'unknown-parameter'],
  ['Format=json', 'unknown-parameter'],
  ['contributions=yes', 'bad-parameter'],
  ['contributions=0', 'bad-parameter'],
  ['estimateError=1', 'bad-parameter'],
  ['__proto__=1', 'unknown-parameter'],
  ['__proto__[format]=csv', 'unknown-parameter'],
  ['refine=64', 'unknown-parameter'],
  [`${'a'.repeat(3000)}=1`, 'unknown-parameter'],
  ['%00=1', 'unknown-parameter'],
];

/** Addresses that know no parameter: one that is given would be without effect in silence. */
const WITHOUT_PARAMETERS = [
  '/api/v1/schema',
  '/api/v1/openapi.json',
  '/api/v1/designs/demo',
  '/api/v1/designs/saved/x',
  '/api/v1/captures',
  UNKNOWN_JOB,
];

const HANDBOOKS: readonly (readonly [string, string])[] = [
  ['{}', '/fullDrive'],
  ['[]', ''],
  ['null', ''],
  ['{"fullDrive":740}', '/fullDrive'],
  ['{"fullDrive":"740 mV"}', '/fullDrive'],
  ['{"surprise":1}', '/surprise'],
];

const PREDICTIONS: readonly (readonly [text: string, field: string])[] = [
  ['{}', '/known'],
  ['{"design":{},"known":{"design":{},"values":[],"correlations":[],"captures":[]}}', '/known'],
  ['{"known":{"design":{},"values":[],"correlations":[]}}', '/known/captures'],
  ['{"design":{},"changes":[{"path":"/core/preset","value":"ferrite-30-mil"}]}', '/core/preset'],
  ['{"design":{"mat":{"rows":-1}}}', '/mat/rows'],
  ['{"design":{},"observed":"here"}', '/observed'],
];

const DEEP = `${'['.repeat(50_000)}${']'.repeat(50_000)}`;
/** Nested without end, in whatever takes values of any form. */
const NESTED: readonly (readonly [path: string, text: string, field: string])[] = [
  [DESIGN_DOORS[0], `{"mat":${DEEP}}`, '/mat/0/0/0'],
  ['/api/v1/studies', `{"kind":"scale","design":{},"options":{"sizes":${DEEP}}}`, '/options/sizes/0'],
  ['/api/v1/studies', `{"kind":"scale","design":{"mat":${DEEP}},"options":{}}`, '/design/mat/0'],
  [
    '/api/v1/fits',
    `{"design":{},"captures":[{"text":"a","changes":[{"path":"/mat","value":${DEEP}}]}],"unknowns":[]}`,
    '/captures/0/changes',
  ],
  ['/api/v1/fits', `{"design":{},"captures":[],"unknowns":[],"ranges":${DEEP}}`, '/ranges/0/0'],
  ['/api/v1/diagnoses', `{"design":{},"captures":${DEEP}}`, '/captures/0/0'],
];

/** The corpus: every entry by hand, each with the answer it must get. */
export const BAD_REQUESTS: readonly BadRequest[] = [
  ...DESIGN_DOORS.flatMap((door) => NOT_JSON.map((text, i) => notJson(`text ${i + 1}`, door, text))),
  ...NOT_JSON.slice(2, 12).map((text, i) => notJson(`text ${i + 3}`, '/api/v1/studies', text)),
  ...NOT_JSON.slice(2, 6).map((text, i) => notJson(`text ${i + 3}`, '/api/v1/cores', text)),
  ...NO_DESIGN.map(([text, field]) =>
    bad('a design that is none', DESIGN_DOORS[0], post(text), 422, '', field),
  ),
  ...METHODS.map(([method, path]) =>
    bad(`${method} where it is not taken`, path, { method }, 405, 'method-not-allowed'),
  ),
  ...UNKNOWN_PATHS.map((path) => bad('an unknown address', path, {}, 404, 'not-found')),
  ...STUDY_FRAMES.map(([text, field]) =>
    bad('a study without its frame', '/api/v1/studies', post(text), 422, '', field),
  ),
  ...PARAMETERS.map(([query, code]) =>
    bad('a parameter', `${DESIGN_DOORS[0]}?${query}`, post('{}'), 400, code),
  ),
  ...WITHOUT_PARAMETERS.map((path) =>
    bad('a parameter where none is known', `${path}?version=1`, {}, 400, 'unknown-parameter', '?version'),
  ),
  bad('a name given twice', DESIGN_DOORS[0], post('{"mat":{"rows":4,"rows":8}}'), 400, 'repeated-name'),
  ...HANDBOOKS.map(([text, field]) =>
    bad('a handbook that is none', '/api/v1/cores', post(text), 422, '', field),
  ),
  ...PREDICTIONS.map(([text, field]) =>
    bad('a prediction that cannot be', '/api/v1/predictions', post(text), 422, '', field),
  ),
  ...NESTED.map(([path, text, field]) =>
    bad('nested without end', path, post(text), 422, 'too-large', field),
  ),
  ...HEADERS,
];

function notJson(name: string, path: string, text: string): BadRequest {
  return bad(`not JSON: ${name}`, path, post(text), 400, text.trim() === '' ? 'empty' : 'invalid-json');
}
