/** Style sheets imported for their effect; the bundler takes them. */
declare module '*.css';
