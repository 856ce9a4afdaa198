/** Gives out the built page, from memory. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { extname, join, relative, sep } from 'node:path';
import type { MiddlewareHandler } from 'hono';

interface PageFile {
  readonly type: string;
  readonly caching: string;
  readonly bytes: Uint8Array<ArrayBuffer>;
}

/**
 * Middleware that answers GET requests for the files of the built page and leaves everything else to
 * what comes after it. The files are read once, now: what a request asks for never becomes a path on
 * the disk. The key is written into the page.
 */
export function builtPage(folder: string, key: string): MiddlewareHandler {
  const files = existsSync(join(folder, 'index.html')) ? readPage(folder, key) : null;
  return async (c, next) => {
    if (c.req.method !== 'GET' && c.req.method !== 'HEAD') return next();
    if (files === null && c.req.path === '/') {
      return c.text('The page has not been built: npm run build', 503);
    }
    const file = files?.get(c.req.path);
    if (file === undefined) return next();
    return c.body(file.bytes, 200, { 'Content-Type': file.type, 'Cache-Control': file.caching });
  };
}

function readPage(folder: string, key: string): Map<string, PageFile> {
  const files = new Map<string, PageFile>();
  for (const entry of readdirSync(folder, { recursive: true, withFileTypes: true })) {
    if (!entry.isFile()) continue;
    const file = join(entry.parentPath, entry.name);
    const path = `/${relative(folder, file).split(sep).join('/')}`;
    const bytes = new Uint8Array(readFileSync(file));
    if (path === '/index.html') {
      const text = withKey(new TextDecoder().decode(bytes), key);
      files.set('/', { ...kindOf(path), bytes: new TextEncoder().encode(text) });
    } else {
      files.set(path, { ...kindOf(path), bytes });
    }
  }
  return files;
}

const keyPlace = '<meta name="pileway-key" content="';

function withKey(html: string, key: string): string {
  if (!html.includes(keyPlace)) throw new Error('the built page has no place for its key');
  return html.replace(keyPlace, () => keyPlace + key);
}

function kindOf(path: string): Omit<PageFile, 'bytes'> {
  return {
    type: types[extname(path)] ?? 'application/octet-stream',
    // The names of files in assets have a hash of what they hold.
    caching: path.startsWith('/assets/') ? 'public, max-age=31536000, immutable' : 'no-cache',
  };
}

const types: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json',
  '.txt': 'text/plain; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.ico': 'image/x-icon',
  '.woff2': 'font/woff2',
  '.woff': 'font/woff',
  '.ttf': 'font/ttf',
};
