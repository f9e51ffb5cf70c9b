import { createRequire } from 'node:module';
import { dirname } from 'node:path';
import express, { Router } from 'express';

const PAGE = `<!doctype html>
<html lang="en">
  <head>
    <meta charset="utf-8" />
    <meta name="viewport" content="width=device-width, initial-scale=1" />
    <title>Strobewright: the HTTP interface</title>
    <link rel="icon" href="data:," />
    <link rel="stylesheet" href="assets/swagger-ui.css" />
  </head>
  <body>
    <div id="docs"></div>
    <script src="assets/swagger-ui-bundle.js"></script>
    <script src="start.js"></script>
  </body>
</html>
`;

const START = `SwaggerUIBundle({ url: '/api/v1/openapi.json', dom_id: '#docs', validatorUrl: null, deepLinking: true });
`;

/** The interface to read and try, served from the installed package under the same strict policy as the page. */
export function docs(): Router {
  const folder = dirname(createRequire(import.meta.url).resolve('swagger-ui-dist/package.json'));
  const router = Router({ strict: true });
  router.get('/', (request, response, next) => {
    if (!request.originalUrl.split('?', 1)[0].endsWith('/'))
      return response.redirect(308, `${request.baseUrl}/`);
    if (request.path !== '/') return next();
    response.type('html').send(PAGE);
  });
  router.get('/start.js', (_request, response) => void response.type('text/javascript').send(START));
  for (const file of ['swagger-ui.css', 'swagger-ui-bundle.js']) {
    router.get(`/assets/${file}`, (_request, response) =>
      response.sendFile(file, { root: folder, maxAge: '1h' }),
    );
  }
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
