import { reloadIfBack } from './reload-if-back.ts';

/**
 * A place for a view that is fetched when it is first looked at: says that it is being fetched, and where it cannot be,
 * what is missing and a button to try again.
 *
 * @param what the view as a sentence begins: "The studies"
 */
export function fetchedView(what: string, load: () => Promise<Node>): HTMLElement {
  const host = document.createElement('div');
  const note = (text: string): HTMLParagraphElement => {
    const line = document.createElement('p');
    line.className = 'note';
    line.textContent = text;
    return line;
  };
  const fetchIt = async (tried = false): Promise<void> => {
    host.replaceChildren(note('Being fetched.'));
    try {
      host.replaceChildren(await load());
    } catch {
      if (tried && (await reloadIfBack())) return;
      const again = document.createElement('button');
      again.type = 'button';
      again.textContent = 'Try again';
      again.addEventListener('click', () => void fetchIt(true));
      host.replaceChildren(note(`${what} could not be fetched: look after the connection.`), again);
    }
  };
  void fetchIt();
  return host;
}
