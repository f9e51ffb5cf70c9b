import type { ApiDocument, Operation } from './document.ts';
import { formOf } from './document.ts';
import { element } from './element.ts';
import { schemaView } from './schema-view.ts';
import { tryForm } from './try-form.ts';

/** One address with one method; what it takes and answers is made when it is opened. */
export function operationView(
  api: ApiDocument,
  path: string,
  method: string,
  operation: Operation,
): HTMLElement {
  const head = element(
    'summary',
    {},
    element('b', {}, method.toUpperCase()),
    element('code', {}, path),
    element('span', {}, ` ${operation.summary ?? ''}`),
  );
  const view = element('details', { className: 'operation', id: anchor(method, path) }, head);
  view.addEventListener('toggle', () => view.append(...parts(api, path, method, operation)), { once: true });
  return view;
}

const anchor = (method: string, path: string): string => `${method}${path.replaceAll(/[^a-z0-9]+/gi, '-')}`;

function parts(api: ApiDocument, path: string, method: string, operation: Operation): HTMLElement[] {
  const made: HTMLElement[] = [];
  const parameters = operation.parameters ?? [];
  if (parameters.length > 0) {
    const rows = parameters.map(({ name, in: place, schema, required }) =>
      element(
        'li',
        {},
        element('code', {}, name),
        ` in the ${place}${required ? ', required' : ''}`,
        schema?.enum === undefined ? '' : `: ${schema.enum.map(String).join(' or ')}`,
      ),
    );
    made.push(element('h3', {}, 'Parameters'), element('ul', { className: 'fields' }, ...rows));
  }
  const body = operation.requestBody && formOf(operation.requestBody);
  if (body !== undefined) made.push(element('h3', {}, `Body, ${body.type}`), schemaView(api, body.schema));
  made.push(element('h3', {}, 'Answers'));
  for (const [status, answer] of Object.entries(operation.responses ?? {})) {
    const form = formOf(answer);
    const line = [element('code', {}, status), ` ${answer.description ?? ''}`];
    const view = element('details', {}, element('summary', {}, ...line));
    if (form === undefined) made.push(element('p', {}, ...line));
    else {
      view.append(element('p', { className: 'note' }, form.type), schemaView(api, form.schema));
      made.push(view);
    }
  }
  made.push(element('h3', {}, 'Try it here'), tryForm(path, method, operation));
  return made;
}
