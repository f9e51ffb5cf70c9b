import express, { Router } from 'express';

/**
 * The interface to read and try is a page of its own, built with the other (web/api/docs) and served with it, under the
 * same strict policy. It is known by its folder's name, with a slash.
 */
export function docs(): Router {
  const router = Router({ strict: true });
  router.get('/', (request, response, next) => {
    if (request.originalUrl.split('?', 1)[0].endsWith('/')) return next();
    response.redirect(308, `${request.baseUrl}/`);
  });
  return router;
}

/** A folder of files with long names kept for good and the page itself always asked for anew. */
export function page(folder: string): express.RequestHandler {
  return express.static(folder, {
    index: 'index.html',
    redirect: false,
    setHeaders: (response, path) => {
      const hashed = /[\\/]assets[\\/]/.test(path);
      response.setHeader('Cache-Control', hashed ? 'public, max-age=31536000, immutable' : 'no-cache');
    },
  });
}
