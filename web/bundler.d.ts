/** What the bundler gives besides modules: style sheets imported for their effect. */
declare module '*.css';

interface ImportMeta {
  /** Files taken into the bundle at build time. */
  glob<T>(
    pattern: string,
    options: { readonly eager: true; readonly import: 'default'; readonly query?: '?raw' },
  ): Readonly<Record<string, T>>;
}
