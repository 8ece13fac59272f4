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
  writeSync,
} from 'node:fs'
import { basename, dirname, join } from 'node:path'
import type { FileChunk } from '../files/tm25Write.ts'
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

/** The same of a file whose bytes come piece by piece, each with its place. A device or a pipe has no places: refused. */
export async function writeChunks(path: string, chunks: AsyncIterable<FileChunk>, over: boolean): Promise<void> {
  try {
    const at = statSync(path, { throwIfNoEntry: false })
    if (at && !at.isFile()) throw new UserError(`${path} is no file; this format needs one.`)
    if (at && !over) throw new UserError(thereAlready(path))
    await inPlaceWhenWhole(at ? realpathSync(path) : path, over, at?.mode, async (file) => {
      for await (const { at: place, bytes } of chunks) {
        for (let done = 0; done < bytes.length; )
          done += writeSync(file, bytes, done, bytes.length - done, place + done)
      }
    })
  } catch (error) {
    throw isOfFiles(error) ? inWords(path, error) : error
  }
}

/** What comes from tracing keeps its own words. */
const isOfFiles = (error: unknown): boolean => error instanceof UserError || codeOf(error) !== undefined

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
    takePlace(beside, path, over, mode)
  } finally {
    rmSync(beside, { force: true })
  }
}

async function inPlaceWhenWhole(
  path: string,
  over: boolean,
  mode: number | undefined,
  write: (file: number) => Promise<void>,
): Promise<void> {
  const beside = nameBeside(path)
  try {
    const file = openSync(beside, 'wx')
    try {
      await write(file)
      fsyncSync(file)
    } finally {
      closeSync(file)
    }
    takePlace(beside, path, over, mode)
  } finally {
    rmSync(beside, { force: true })
  }
}

function takePlace(beside: string, path: string, over: boolean, mode: number | undefined): void {
  if (mode !== undefined) chmodSync(beside, mode & 0o7777)
  if (over) renameSync(beside, path)
  else putInPlace(beside, path)
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
