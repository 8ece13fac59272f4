// Writes a file whole or not at all: beside its place, then renamed, so that a full disk or an interruption leaves what was there.
import { randomUUID } from 'node:crypto'
import {
  chmodSync,
  closeSync,
  fsyncSync,
  linkSync,
  openSync,
  realpathSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs'
import { basename, dirname, join } from 'node:path'
import { UserError } from './io.ts'

/** `over`: what is there may be replaced. A device or a pipe is written to as it is. Throws a `UserError` in words. */
export function writeFile(path: string, text: string | Uint8Array, over: boolean): void {
  try {
    const at = statSync(path, { throwIfNoEntry: false })
    if (at && !at.isFile()) writeFileSync(path, text)
    else if (at && !over) throw new UserError(thereAlready(path))
    else writeBeside(at ? realpathSync(path) : path, text, over, at?.mode)
  } catch (error) {
    throw inWords(path, error)
  }
}

/** Says at once what `writeFile` would say after the work; leaves nothing behind. */
export function expectWritable(path: string, over: boolean): void {
  try {
    const at = statSync(path, { throwIfNoEntry: false })
    if (at?.isDirectory()) throw new UserError(`${path} is a folder; expected the name of a file.`)
    if (at && !at.isFile()) return
    if (at && !over) throw new UserError(thereAlready(path))
    const beside = nameBeside(at ? realpathSync(path) : path)
    closeSync(openSync(beside, 'wx'))
    rmSync(beside)
  } catch (error) {
    throw inWords(path, error)
  }
}

const nameBeside = (path: string) => join(dirname(path), `.${basename(path).slice(0, 100)}.${randomUUID()}.part`)

function writeBeside(path: string, text: string | Uint8Array, over: boolean, mode: number | undefined): void {
  const beside = nameBeside(path)
  try {
    const file = openSync(beside, 'wx')
    try {
      writeFileSync(file, text)
      fsyncSync(file)
    } finally {
      closeSync(file)
    }
    if (mode !== undefined) chmodSync(beside, mode & 0o7777)
    if (over) renameSync(beside, path)
    else putInPlace(beside, path)
  } finally {
    rmSync(beside, { force: true })
  }
}

/** Fails where something has come in its place meanwhile. */
function putInPlace(beside: string, path: string): void {
  try {
    linkSync(beside, path)
  } catch (error) {
    // File systems without links.
    if (!['EPERM', 'ENOTSUP', 'EOPNOTSUPP', 'ENOSYS'].includes(codeOf(error) ?? '')) throw error
    renameSync(beside, path)
  }
}

const codeOf = (error: unknown) => (error as NodeJS.ErrnoException).code
const thereAlready = (path: string) => `${path} is there already and stays as it is; --force writes over it.`

function inWords(path: string, error: unknown): UserError {
  if (error instanceof UserError) return error
  switch (codeOf(error)) {
    case 'EEXIST':
      return new UserError(thereAlready(path))
    case 'ENOENT':
      return new UserError(`${path} can't be written: there is no such folder.`)
    case 'EISDIR':
      return new UserError(`${path} is a folder; expected the name of a file.`)
    case 'ENOSPC':
      return new UserError(`${path} can't be written: the disk is full. What was there stays as it was.`)
    default:
      return new UserError(`${path} can't be written: ${error instanceof Error ? error.message : String(error)}.`)
  }
}
