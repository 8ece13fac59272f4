// The page's own Content-Security-Policy, from index.html. Workers don't inherit what stands in a page; where a server sends it, it holds for them too.
import { readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'

export function pagePolicy(): string {
  const html = readFileSync(fileURLToPath(new URL('../../index.html', import.meta.url)), 'utf8')
  const [, policy] = html.match(/http-equiv="Content-Security-Policy"\s+content="([^"]*)"/) ?? []
  if (!policy) throw new Error('index.html has no Content-Security-Policy')
  return policy
}
