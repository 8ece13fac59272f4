// What Node's own `import` lacks here: TypeScript (stripped by esbuild, file by file), and text and JSON as modules, as the build has them.
// `tsx` does the first too, but keeps functions' names by a call around each, a sixth of the time of the tests of rays.
import { readFile } from 'node:fs/promises'
import { fileURLToPath } from 'node:url'
import { transform } from 'esbuild'

/** @type {import('node:module').LoadHook} */
export async function load(url, context, next) {
  const [address, query] = url.split('?')
  if (!address.startsWith('file:') || address.includes('/node_modules/')) return next(url, context)
  const path = fileURLToPath(address)
  const asModule = (source) => ({ format: 'module', source, shortCircuit: true })
  if (query === 'raw') return asModule(`export default ${JSON.stringify(await readFile(path, 'utf8'))}`)
  if (path.endsWith('.json')) return asModule(`export default ${await readFile(path, 'utf8')}`)
  if (!/\.tsx?$/.test(path)) return next(url, context)
  const { code } = await transform(await readFile(path, 'utf8'), {
    loader: path.endsWith('x') ? 'tsx' : 'ts',
    jsx: 'automatic',
    target: 'es2022',
    sourcefile: path,
    sourcemap: 'inline',
  })
  return asModule(code)
}
