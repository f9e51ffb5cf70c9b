/**
 * Keeps the page's own files of one build, so that a page that was opened once opens without a network, its later views and
 * workers too. It never touches anything else: no answer of the interface, no design, no capture. The page itself is asked
 * for anew where there is a network, so that a new build is met at once; files with the build's marks in their names are
 * what they were.
 */

/** Names of the build's files, relative to the page, and the build's mark: put in front of this file when it is built. */
declare const PAGE_FILES: readonly string[];
declare const PAGE_BUILD: string;

const worker = self as unknown as ServiceWorkerGlobalScope;
const PREFIX = 'strobewright-page-';
const CACHE = PREFIX + PAGE_BUILD;
const PAGE = 'index.html';

const addressOf = (name: string): string =>
  new URL(name === PAGE ? './' : name, worker.registration.scope).href;

/** Which of the build's files an address means; undefined for all others. */
function nameOf(address: string): string | undefined {
  const { scope } = worker.registration;
  const plain = address.split(/[?#]/u, 1)[0]!;
  if (!plain.startsWith(scope)) return undefined;
  const name = plain.slice(scope.length) || PAGE;
  return PAGE_FILES.includes(name) ? name : undefined;
}

async function keepAll(): Promise<void> {
  const cache = await caches.open(CACHE);
  await cache.addAll(PAGE_FILES.map((name) => new Request(addressOf(name), { cache: 'no-cache' })));
}

async function dropOthers(): Promise<void> {
  const old = (await caches.keys()).filter((name) => name.startsWith(PREFIX) && name !== CACHE);
  await Promise.all(old.map((name) => caches.delete(name)));
  await worker.clients.claim();
}

const kept = async (name: string): Promise<Response | undefined> =>
  (await caches.open(CACHE)).match(addressOf(name));

async function answer(request: Request, name: string): Promise<Response> {
  if (name.startsWith('assets/')) return (await kept(name)) ?? fetch(request);
  try {
    const found = await fetch(request);
    // A gateway that answers for a server that is gone is no answer of the page's.
    return found.status < 500 ? found : ((await kept(name)) ?? found);
  } catch (error) {
    const found = await kept(name);
    if (found) return found;
    throw error;
  }
}

worker.addEventListener('install', (event) => event.waitUntil(keepAll()));
worker.addEventListener('activate', (event) => event.waitUntil(dropOthers()));
worker.addEventListener('fetch', (event) => {
  const name = event.request.method === 'GET' ? nameOf(event.request.url) : undefined;
  if (name !== undefined) event.respondWith(answer(event.request, name));
});
