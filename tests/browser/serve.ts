// The built page over HTTP, with its policy as a header.
import { readFile } from 'node:fs/promises'
import { createServer } from 'node:http'
import type { AddressInfo } from 'node:net'
import { extname, join, normalize } from 'node:path'
import { pagePolicy } from '../kit/pagePolicy.ts'

const TYPES: Record<string, string> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.wasm': 'application/wasm',
  '.woff2': 'font/woff2',
  '.webmanifest': 'application/manifest+json',
}

interface Served {
  /** Its address, with a slash at the end. */
  at: string
  /** Open connections end as well. */
  close(): void
}

/** On a free port, or the one given. */
export function serve(folder: string, port = 0): Promise<Served> {
  const policy = pagePolicy()
  const server = createServer(async (request, response) => {
    const path = normalize(decodeURIComponent(new URL(request.url ?? '/', 'http://x').pathname))
    try {
      const body = await readFile(join(folder, path.endsWith('/') ? `${path}index.html` : path))
      response.writeHead(200, {
        'content-type': TYPES[extname(path)] ?? TYPES['.html'],
        'content-security-policy': policy,
      })
      response.end(body)
    } catch {
      response.writeHead(404).end()
    }
  })
  const close = () => {
    server.close()
    server.closeAllConnections()
  }
  return new Promise((resolve) =>
    server.listen(port, '127.0.0.1', () =>
      resolve({ at: `http://127.0.0.1:${(server.address() as AddressInfo).port}/`, close }),
    ),
  )
}
