import type { Operation } from './document.ts';
import { formOf } from './document.ts';
import { element } from './element.ts';

/** Characters of an answer that are shown. */
const SHOWN = 20_000;
/** ms after which a long answer, such as a stream of events, is shown as far as it came. */
const PATIENCE = 30_000;

/** Asks this server and shows what it answers. What it changes it changes for good. */
export function tryForm(path: string, method: string, operation: Operation): HTMLElement {
  const fields = (operation.parameters ?? [])
    .filter(({ in: place }) => place === 'path' || place === 'query')
    .map(({ name, in: place }) => ({ name, place, input: element('input', { autocomplete: 'off' }) }));
  const body = operation.requestBody && formOf(operation.requestBody);
  const text = element('textarea', { rows: 6, value: body?.type === 'application/json' ? '{}' : '' });
  const answer = element('div');
  answer.setAttribute('aria-live', 'polite');
  const form = element(
    'form',
    {},
    ...fields.map(({ name, input }) => element('label', {}, `${name} `, input)),
    ...(body === undefined ? [] : [element('label', {}, `Body, ${body.type}`, text)]),
    element('button', { type: 'submit' }, 'Send'),
    answer,
  );
  form.addEventListener('submit', (event) => {
    event.preventDefault();
    let address = path;
    const query = new URLSearchParams();
    for (const { name, place, input } of fields) {
      if (place === 'path') address = address.replace(`{${name}}`, encodeURIComponent(input.value));
      else if (input.value !== '') query.set(name, input.value);
    }
    const whole = query.size === 0 ? address : `${address}?${query.toString()}`;
    const sent = body && { headers: { 'Content-Type': body.type }, body: text.value };
    answer.replaceChildren(element('p', { className: 'note' }, `Asked ${whole}.`));
    void ask(whole, { method: method.toUpperCase(), ...sent }).then((shown) =>
      answer.replaceChildren(...shown),
    );
  });
  return form;
}

async function ask(address: string, init: RequestInit): Promise<HTMLElement[]> {
  try {
    const reply = await fetch(address, { ...init, signal: AbortSignal.timeout(PATIENCE) });
    const text = await reply.text();
    const cut = text.length > SHOWN ? `${text.slice(0, SHOWN)}\n… ${text.length} characters in all` : text;
    return [element('p', {}, `${reply.status} ${reply.statusText}`), element('pre', { tabIndex: 0 }, cut)];
  } catch {
    const message = `No answer within ${PATIENCE / 1000} s: see that the server is there, and ask again.`;
    return [element('p', { className: 'error' }, message)];
  }
}
