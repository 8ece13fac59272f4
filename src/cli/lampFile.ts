// Opens a lamp: an example by name, or a file: the document itself, a book as PDF, or a picture that the page saved.
import { closeSync, openSync, readFileSync, readSync } from 'node:fs'
import { LAMP_BYTES } from '../files/lampBytes.ts'
import { lampFromBytes } from '../files/lampFile.ts'
import type { Lamp } from '../lamp/schema.ts'
import { DEMOS } from '../library/demos.ts'
import { EXAMPLES } from './help.ts'
import { stripControls, UserError } from './io.ts'
import { didYouMean } from './nearest.ts'

export function exampleLamp(name: string): Lamp | null {
  const id = name === 'demo' ? 'gannet-head' : name
  return Object.hasOwn(DEMOS, id) ? DEMOS[id]!() : null
}

/** An example takes precedence over a file of the same name: ./demo is the file. */
export async function openLamp(name: string): Promise<Lamp> {
  const example = exampleLamp(name)
  if (example) return example
  const read = await lampFromBytes(readBytes(name))
  if (read.ok) return read.lamp
  const why = read.why.map(stripControls)
  throw new UserError(why.length === 1 ? `${name}: ${why[0]}` : `${name} holds no lamp:\n  ${why.join('\n  ')}`)
}

function readBytes(path: string): Uint8Array {
  let file: number | undefined
  try {
    file = openSync(path, 'r')
    const chunks: Buffer[] = []
    for (let bytes = 0; ; ) {
      const chunk = Buffer.alloc(1 << 20)
      const got = readSync(file, chunk)
      if (got === 0) break
      bytes += got
      if (bytes > LAMP_BYTES) throw new UserError(`${path}: too large for a lamp; expected at most 64 MiB.`)
      chunks.push(chunk.subarray(0, got))
    }
    return Buffer.concat(chunks)
  } catch (error) {
    if (error instanceof UserError) throw error
    throw new UserError(readFault(path, error))
  } finally {
    if (file !== undefined) closeSync(file)
  }
}

const LAMP_FILE = 'a lamp file'

/** Any text file, `what` it should be in words. */
export function readText(path: string, what: string): string {
  try {
    return readFileSync(path, 'utf8')
  } catch (error) {
    throw new UserError(readFault(path, error, what))
  }
}

/** Why a file can't be read, in words. */
export function readFault(path: string, error: unknown, what = LAMP_FILE): string {
  switch ((error as NodeJS.ErrnoException).code) {
    case 'ENOENT':
      return what === LAMP_FILE
        ? `No file or example called ${path}${didYouMean(path, EXAMPLES, 'the example ')}.`
        : `No file called ${path}.`
    case 'EISDIR':
      return `${path} is a folder; expected ${what}.`
    case 'EACCES':
      return `${path} may not be read by this user.`
    default:
      return `${path} can't be read: ${error instanceof Error ? error.message : String(error)}.`
  }
}
