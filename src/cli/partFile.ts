// Parts of a run as files: --part and --out of the commands that can be cut, and what merge reads.
import { existsSync, readFileSync } from 'node:fs'
import {
  type Cell,
  indicesOf,
  type Part,
  type PartFile,
  parsePart,
  partName,
  readPart,
  runHash,
  WHOLE,
  writePart,
} from '../job/part/part.ts'
import { whole } from './format.ts'
import { type Io, stripControls, UserError } from './io.ts'
import { readFault } from './lampFile.ts'
import type { Parsed } from './options.ts'
import { VERSION } from './version.ts'
import { expectWritable, writeFile } from './writeFile.ts'

export const PART_OPTIONS = {
  part: { type: 'string', value: 'I/N' },
  out: { type: 'string', value: 'FILE' },
} as const

/** What a run's cells are. */
const CELLS: Record<PartFile['kind'], string> = { sweep: 'lamps', tolerances: 'lamps', optimize: 'searches' }

export interface PartAsked {
  part: Part
  out: string
  /** Of a run that is cut, 1/1 too: what is printed is left to merge. */
  isPart: boolean
}

/** The file that the run, or a part of it, goes to; null: none. */
export function partAsked(parsed: Parsed): PartAsked | null {
  const text = parsed.values.get('part')
  const out = parsed.values.get('out')
  if (text === undefined) return out === undefined ? null : { part: WHOLE, out, isPart: false }
  const part = parsePart(text)
  if (!part) throw new UserError(`--part: ${JSON.stringify(text)} does not fit; expected I/N, part I of N, as in 3/8.`)
  if (out === undefined) throw new UserError('--part needs --out FILE: merge joins the files of all parts.')
  return { part, out, isPart: true }
}

/**
 * Computes the cells of a part, or of the whole run without a file, and writes it. Null where the same part of the same
 * run stands in the file already: a part may be asked for again without harm.
 */
export async function computePart<C extends Cell>(
  run: Pick<PartFile, 'kind' | 'settings' | 'all' | 'lamp'>,
  file: PartAsked | null,
  over: boolean,
  io: Io,
  compute: (indices: readonly number[]) => Promise<C[]>,
): Promise<PartFile<C> | null> {
  const part = file?.part ?? WHOLE
  const head = { format: 'lamp-part', version: 1, program: VERSION, ...run, ...part } as const
  if (file?.isPart && !over && isThere(file.out, head)) {
    io.out(`${stripControls(file.out)} is part ${partName(part)} already.\n`)
    return null
  }
  if (file) expectWritable(file.out, over)
  const made: PartFile<C> = { ...head, cells: await compute(indicesOf(run.all, part)) }
  if (file) writeFile(file.out, writePart(made), over)
  if (file?.isPart)
    io.out(
      `Wrote part ${partName(part)}, ${whole(made.cells.length)} of ${whole(run.all)} ${CELLS[run.kind]}, to ${stripControls(file.out)}.\n`,
    )
  return made
}

function isThere(path: string, head: Omit<PartFile, 'cells'>): boolean {
  if (!existsSync(path)) return false
  const read = readPart(readText(path))
  return read.ok && read.part.part === head.part && read.part.of === head.of && runHash(read.part) === runHash(head)
}

function readText(path: string): string {
  try {
    return readFileSync(path, 'utf8')
  } catch (error) {
    throw new UserError(readFault(path, error, 'the part of a run'))
  }
}

export function openPart(path: string): PartFile {
  const read = readPart(readText(path))
  if (!read.ok) throw new UserError(`${path}: ${stripControls(read.why)}.`)
  return read.part
}
