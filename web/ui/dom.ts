type Child = Node | string | number | undefined | false;
type Attributes = Readonly<Record<string, string | number | boolean | undefined | ((event: never) => void)>>;

const SVG = 'http://www.w3.org/2000/svg';

function fill<E extends Element>(element: E, attributes: Attributes, children: readonly Child[]): E {
  for (const [name, value] of Object.entries(attributes)) {
    if (value === undefined || value === false) continue;
    if (typeof value === 'function') element.addEventListener(name, value as unknown as EventListener);
    else element.setAttribute(name, value === true ? '' : String(value));
  }
  append(element, children);
  return element;
}

function append(element: Element, children: readonly Child[]): void {
  for (const child of children)
    if (child !== undefined && child !== false)
      element.append(typeof child === 'number' ? String(child) : child);
}

/** An HTML element; attributes whose value is a function are event listeners. */
export const h = <K extends keyof HTMLElementTagNameMap>(
  tag: K,
  attributes: Attributes = {},
  ...children: Child[]
): HTMLElementTagNameMap[K] => fill(document.createElement(tag), attributes, children);

/** An SVG element. */
export const s = <K extends keyof SVGElementTagNameMap>(
  tag: K,
  attributes: Attributes = {},
  ...children: Child[]
): SVGElementTagNameMap[K] => fill(document.createElementNS(SVG, tag), attributes, children);

/** Replaces what `parent` holds. */
export function put(parent: Element, ...children: Child[]): void {
  parent.replaceChildren();
  append(parent, children);
}
