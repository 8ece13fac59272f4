// Runs a bundle of the form 'script' with V8's code cache: what a first run has compiled lies beside the bundle, so that later starts compile
// next to nothing. Node's own compile cache (module.enableCompileCache) is there from 22.1 on only.
import { createHash, randomUUID } from 'node:crypto'
import { readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { pathToFileURL } from 'node:url'
import { setFlagsFromString } from 'node:v8'
import { Script } from 'node:vm'

const HASH = 'sha1'
const HASH_BYTES = 20

/**
 * Runs the bundle at `path`, a function of its `require`, `module`, own address and `import`, as makeBundle.mjs writes it. `use`: a word for what
 * it is to do; each word has a cache of its own, with the functions that are called for it.
 */
export function runScript(path, use) {
  const cache = `${path}.${process.version}-${process.arch}-${use.replace(/[^a-z]/g, '')}.cache`
  // Else V8 drops the code of what has not run for a while, first of all that of the bundle itself, before it is kept or even run.
  setFlagsFromString('--no-flush-bytecode')
  const cachedData = keptCode(cache)
  const script = new Script(readFileSync(path, 'latin1'), {
    filename: path,
    cachedData,
  })
  // V8 rejects what another version of it, or one with other flags, has made.
  if (!cachedData || script.cachedDataRejected)
    process.once('exit', (status) => {
      if (status <= 1) keepCode(cache, script.createCachedData()) // a word that was refused (status 2) may be any
    })
  const importIt = (name) => import(name) // its own import() works in a first run alone: code out of a cache has no loader
  script.runInThisContext()(createRequire(path), { exports: {} }, pathToFileURL(path).href, importIt)
}

/** Undefined where there is none, or a damaged one: V8 checks its length only, and a wrong byte in it ends the process. */
function keptCode(path) {
  try {
    const bytes = readFileSync(path)
    const code = bytes.subarray(HASH_BYTES)
    return bytes.subarray(0, HASH_BYTES).equals(hashOf(code)) ? code : undefined
  } catch {
    return undefined
  }
}

/** Written beside and then renamed. Where it can't be written, the next start compiles again. */
function keepCode(path, code) {
  const own = `${path}.${randomUUID()}`
  try {
    writeFileSync(own, Buffer.concat([hashOf(code), code]))
    renameSync(own, path)
  } catch {
    rmSync(own, { force: true })
  }
}

const hashOf = (bytes) => createHash(HASH).update(bytes).digest()
