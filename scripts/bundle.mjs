// Bundles TypeScript entries for Node into node_modules/.cache/lampwright, so that the command line and the scripts
// run on plain Node with no loader. The workers are always built beside them. A bundle lies in a folder named by the contents of every file
// that it was made from, and is used again only while all of them are the same. Here is what every start runs, so it loads little:
// while no file's stamp has changed, nothing is read but the list of stamps.
import { existsSync, readFileSync, statSync, utimesSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

const ROOT = dirname(dirname(fileURLToPath(import.meta.url)))

/**
 * Bundle `entry` (a path below the repository) and give the path of the runnable file: 'module' for `import`, 'script'
 * for `runScript` (an entry without `await` at its top).
 */
export async function bundle(entry, root = ROOT, form = 'module') {
  const name = entry
    .replace(/^(src|scripts|tests)\//, '')
    .replace(/\//g, '-')
    .replace(/\.ts$/, '')
  const cache = join(root, 'node_modules/.cache/lampwright')
  const file = `${name}${form === 'script' ? '.cjs' : '.mjs'}`
  const list = listed(join(cache, `${name}.inputs.json`), root, form)
  if (list && isUnchanged(root, list.stamps) && isUsed(join(cache, list.folder))) return join(cache, list.folder, file)
  const { sameOrBuilt } = await import('./makeBundle.mjs')
  const folder = await sameOrBuilt({ entry, root, form, name, cache, known: list && Object.keys(list.stamps) })
  return join(cache, folder, file)
}

/** Null where there is no list, half of one that a full disk left, or one of another place or form. */
function listed(path, root, form) {
  try {
    const list = JSON.parse(readFileSync(path, 'utf8'))
    return list.root === root && list.form === form ? list : null
  } catch {
    return null
  }
}

const isUnchanged = (root, stamps) =>
  Object.entries(stamps).every(([path, stamp]) => stamp !== UNSURE && stamp === stampOf(`${root}/${path}`))

/** In a list: the stamp was too young to tell a later edit by; the contents decide. */
export const UNSURE = ''

/** Another one after every edit: no program can set ctime, the time at which the file system last changed anything of a file. */
export function stampOf(path) {
  const at = statSync(path, { throwIfNoEntry: false })
  return at ? [at.ctimeMs, at.mtimeMs, at.size, at.ino].join(' ') : 'absent'
}

/** Marks it as used now, where it is there. */
export function isUsed(folder) {
  if (!existsSync(folder)) return false
  const now = new Date()
  try {
    utimesSync(folder, now, now)
  } catch {
    return existsSync(folder) // another user's, or gone this moment
  }
  return true
}
