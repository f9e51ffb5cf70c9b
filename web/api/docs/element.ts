/** An element with its children; text is text, whatever it holds. */
export function element<Tag extends keyof HTMLElementTagNameMap>(
  tag: Tag,
  properties: Partial<HTMLElementTagNameMap[Tag]> = {},
  ...children: readonly (Node | string)[]
): HTMLElementTagNameMap[Tag] {
  const made = Object.assign(document.createElement(tag), properties);
  made.append(...children);
  return made;
}
