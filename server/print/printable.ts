/**
 * Text for a terminal: control characters but for tab and line feed, and marks that turn the direction of writing,
 * become visible escapes, so that a name in a file or a path cannot steer the terminal or hide what follows.
 */
export const printable = (text: string): string =>
  text.replaceAll(
    // oxlint-disable-next-line no-control-regex -- control characters are what is looked for
    /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/g,
    (mark) => `\\u${mark.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );
