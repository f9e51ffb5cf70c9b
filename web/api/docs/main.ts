import type { ApiDocument, Operation } from './document.ts';
import { element } from './element.ts';
import { operationView } from './operation-view.ts';

/** The interface as the server describes it, to read and to try. */
async function show(place: HTMLElement): Promise<void> {
  const reply = await fetch('../v1/openapi.json').catch(() => undefined);
  if (reply?.ok !== true) {
    const message =
      'The description comes from a running server, and none answers here: start one with "npx strobewright serve" and load this page from it.';
    place.replaceChildren(
      element('h1', {}, 'The HTTP interface'),
      element('p', { className: 'error' }, message),
    );
    return;
  }
  const api = (await reply.json()) as ApiDocument;
  const byTag = new Map<string, HTMLElement[]>();
  for (const [path, operations] of Object.entries(api.paths)) {
    for (const [method, operation] of Object.entries(operations)) {
      const [tag] = tagsOf(operation);
      byTag.set(tag, [...(byTag.get(tag) ?? []), operationView(api, path, method, operation)]);
    }
  }
  place.replaceChildren(
    element('h1', {}, `${api.info.title} ${api.info.version}: the HTTP interface`),
    element('p', {}, api.info.description ?? ''),
    element(
      'p',
      {},
      'The document itself: ',
      element('a', { href: '../v1/openapi.json' }, '/api/v1/openapi.json'),
      '. Schema of a design: ',
      element('a', { href: '../v1/schema' }, '/api/v1/schema'),
      '.',
    ),
    ...[...byTag].flatMap(([tag, views]) => [element('h2', {}, tag), ...views]),
  );
  openNamed();
  addEventListener('hashchange', openNamed);
}

const tagsOf = ({ tags = [] }: Operation): readonly [string] => [tags[0] ?? 'More'];

/** An address such as #post-api-v1-fits opens that part. */
function openNamed(): void {
  const named = document.getElementById(decodeURIComponent(location.hash.slice(1)));
  if (!(named instanceof HTMLDetailsElement)) return;
  named.open = true;
  named.scrollIntoView();
}

const place = document.getElementById('docs');
if (place !== null) void show(place);
