// Reads ray files of IES TM-25 (2013) as their bytes come, so that a file may be larger than the memory. What each field may hold is checked before
// anything is made by it. Where the layout is second-hand: tm25.ts.
import {
  AT,
  BLOCK_BYTES,
  columnsOf,
  DATE_BYTES,
  FLAGS,
  LABEL_BYTES,
  MAGIC,
  type RayFileFlags,
  type RayFileHead,
  type RayFileTexts,
  SPECTRAL,
  TEXT_CHARS,
  TEXTS,
  takeUtf32,
} from './tm25.ts'
import { HOST_IS_LITTLE } from './tm25Write.ts'

const RAY_FILE_LIMITS = {
  rays: 2_000_000_000,
  tables: 1000,
  tableRows: 100_000,
  additional: 100,
  textBytes: 16_000_000,
} as const

export interface RayFileSink {
  /** The header, before any ray; a sentence refuses the file. */
  onHead(head: RayFileHead, columns: readonly string[]): string | null
  /** Whole rays, as many numbers each as the file has columns; to be read at once. */
  onRays(rows: Float32Array): void
}

export type RayFileRead =
  | {
      ok: true
      head: RayFileHead
      columns: readonly string[]
      /** Sums of the rays themselves; null: the file has no such column. */
      radiantW: number | null
      luminousLm: number | null
      notes: string[]
    }
  | { ok: false; why: string }

/** Sums that differ from the header's by more are said. */
const SUMS_WITHIN = 0.01
const UNIT_WITHIN = 1e-3

/** A whole file, from its first byte on, in pieces of any size. */
export async function readRayFile(
  chunks: AsyncIterable<Uint8Array> | Iterable<Uint8Array>,
  sink: RayFileSink,
): Promise<RayFileRead> {
  const bytes = makeBytes(chunks)
  const opened = await readHead(bytes)
  if (!opened.ok) return opened
  const { head, notes } = opened
  const columns = columnsOf(head.flags, head.additional)
  const refused = sink.onHead(head, columns)
  if (refused !== null) return { ok: false, why: refused }
  const sums = makeSums(columns)
  const rayBytes = 4 * columns.length
  let rays = 0
  for (;;) {
    const piece = await bytes.some(rayBytes, rayBytes * (head.rays - rays))
    if (piece.length === 0) break
    const rows = floatsOf(piece)
    const why = sums.add(rows, rays)
    if (why !== null) return { ok: false, why }
    sink.onRays(rows)
    rays += rows.length / columns.length
  }
  if (rays < head.rays)
    return { ok: false, why: `The file breaks off: it promises ${head.rays} rays and ends after ${rays}.` }
  if (await bytes.more())
    return {
      ok: false,
      why: `Something stands after the last of its ${head.rays} rays; the file is damaged, or of another layout.`,
    }
  const { radiantW, luminousLm } = sums
  return {
    ok: true,
    head,
    columns,
    radiantW: radiantW(),
    luminousLm: luminousLm(),
    notes: [...notes, ...sumNotes(head.radiantW, radiantW(), 'W'), ...sumNotes(head.luminousLm, luminousLm(), 'lm')],
  }
}

function sumNotes(header: number | null, rays: number | null, unit: string): string[] {
  if (header === null || rays === null || Math.abs(rays - header) <= SUMS_WITHIN * header) return []
  return [
    `Its header says ${Number(header.toPrecision(4))} ${unit}; its rays add up to ${Number(rays.toPrecision(4))} ${unit}.`,
  ]
}

/** Checks rows and adds them up. */
function makeSums(columns: readonly string[]) {
  const width = columns.length
  const [radiantAt, luminousAt] = [columns.indexOf('radiantW'), columns.indexOf('luminousLm')]
  let [watts, lumens] = [0, 0]
  const at = (rows: Float32Array, i: number) => (i < 0 ? 0 : rows[i]!)
  return {
    /** Why one of them is no ray; `before`: rays read so far. */
    add(rows: Float32Array, before: number): string | null {
      for (let from = 0; from < rows.length; from += width) {
        const [dx, dy, dz] = [rows[from + 3]!, rows[from + 4]!, rows[from + 5]!]
        // Not hypot, which takes several times as long.
        const length = Math.sqrt(dx * dx + dy * dy + dz * dz)
        const place = rows[from]! + rows[from + 1]! + rows[from + 2]!
        const w = radiantAt < 0 ? 0 : at(rows, from + radiantAt)
        const lm = luminousAt < 0 ? 0 : at(rows, from + luminousAt)
        const fault = !Number.isFinite(place)
          ? 'its place is no number'
          : !(Math.abs(length - 1) <= UNIT_WITHIN)
            ? `its direction has the length ${length}, not 1`
            : !(w >= 0 && lm >= 0 && Number.isFinite(w + lm))
              ? 'its flux is no number from 0 up'
              : null
        if (fault !== null) return `Ray ${before + from / width + 1}: ${fault}.`
        watts += w
        lumens += lm
      }
      return null
    },
    radiantW: () => (radiantAt < 0 ? null : watts),
    luminousLm: () => (luminousAt < 0 ? null : lumens),
  }
}

type Opened = { ok: true; head: RayFileHead; notes: string[] } | { ok: false; why: string }

async function readHead(bytes: Bytes): Promise<Opened> {
  const refuse = (why: string): Opened => ({ ok: false, why })
  const first = await bytes.exactly(4)
  if (!first || String.fromCharCode(...first) !== MAGIC)
    return refuse('No ray file of TM-25: it does not begin with the letters TM25.')
  const rest = await bytes.exactly(AT.tablesFrom - 4)
  if (!rest) return refuse('The file ends inside its header.')
  const view = new DataView(new ArrayBuffer(AT.tablesFrom))
  new Uint8Array(view.buffer).set(rest, 4)
  const int = (at: number) => view.getInt32(at, true)
  const float = (at: number) => finiteOrNull(view.getFloat32(at, true))
  const notes: string[] = []
  const version = int(AT.version)
  if (version !== 2013 && version !== 2020) return refuse(`Its version is ${version}; expected 2013 or 2020.`)
  if (version === 2020) notes.push('A file of the edition of 2020, read as one of 2013.')
  const rays = view.getBigUint64(AT.rays, true)
  if (rays < 1n || rays > BigInt(RAY_FILE_LIMITS.rays))
    return refuse(`It promises ${rays} rays; expected 1 to ${RAY_FILE_LIMITS.rays}.`)
  const spectral = SPECTRAL[int(AT.spectral)]
  if (!spectral) return refuse(`What its wavelengths are is given as ${int(AT.spectral)}; expected 0 to 4.`)
  const [tables, additional, textBytes] = [int(AT.tables), int(AT.additional), int(AT.textBytes)]
  for (const [what, count, most] of [
    ['spectral tables', tables, RAY_FILE_LIMITS.tables],
    ['further columns', additional, RAY_FILE_LIMITS.additional],
    ['bytes of text', textBytes, RAY_FILE_LIMITS.textBytes],
  ] as const)
    if (!(count >= 0 && count <= most)) return refuse(`It promises ${count} ${what}; expected 0 to ${most}.`)
  const flags = readFlags(view)
  if (!flags) return refuse('A flag of its header is neither 0 nor 1, or its rays have no place or no direction.')
  if (!flags.radiantW && !flags.luminousLm) return refuse('Its rays carry no flux, neither watts nor lumens.')
  if (spectral === 'eachRay' && !flags.wavelengthNm)
    return refuse('Its header promises a wavelength with each ray, but there is no such column.')
  const why = await skipTables(bytes, tables)
  if (why !== null) return refuse(why)
  const labels: string[] = []
  for (let i = 0; i < additional; i++) {
    const label = await bytes.exactly(LABEL_BYTES)
    if (!label) return refuse('The file ends inside the names of its columns.')
    labels.push(takeUtf32(viewOf(label), 0, LABEL_BYTES / 4) || `column ${i + 1}`)
  }
  if (!(await bytes.skip(textBytes))) return refuse('The file ends inside its text.')
  return {
    ok: true,
    notes,
    head: {
      creation: int(AT.creation),
      luminousLm: float(AT.luminousLm),
      radiantW: float(AT.radiantW),
      rays: Number(rays),
      date: dateOf(view),
      start: int(AT.start),
      spectral,
      singleNm: float(AT.singleNm),
      fromNm: float(AT.fromNm),
      toNm: float(AT.toNm),
      flags,
      texts: textsOf(view),
      additional: labels,
    },
  }
}

const finiteOrNull = (value: number): number | null => (Number.isFinite(value) ? value : null)

function dateOf(view: DataView): string {
  const bytes = new Uint8Array(view.buffer, AT.date, DATE_BYTES)
  const end = bytes.indexOf(0)
  return String.fromCharCode(...bytes.subarray(0, end < 0 ? DATE_BYTES : end)).replace(/[^\x20-\x7e]/g, '?')
}

const textsOf = (view: DataView): RayFileTexts =>
  Object.fromEntries(
    TEXTS.map((name, i) => [name, takeUtf32(view, AT.texts + 4 * TEXT_CHARS * i, TEXT_CHARS)]),
  ) as RayFileTexts

function readFlags(view: DataView): RayFileFlags | null {
  const values = FLAGS.map((_, i) => view.getInt32(AT.flags + 4 * i, true))
  if (values.some((value) => value !== 0 && value !== 1)) return null
  const flags = Object.fromEntries(FLAGS.map((name, i) => [name, values[i] === 1])) as RayFileFlags
  return flags.position && flags.direction ? flags : null
}

/** Each table: a count n, then n wavelengths and n values. All of them together are filled up to a whole block. */
async function skipTables(bytes: Bytes, tables: number): Promise<string | null> {
  let taken = 0
  for (let i = 0; i < tables; i++) {
    const head = await bytes.exactly(4)
    if (!head) return 'The file ends inside its spectral tables.'
    const rows = viewOf(head).getInt32(0, true)
    if (!(rows >= 1 && rows <= RAY_FILE_LIMITS.tableRows))
      return `Its spectral table ${i + 1} promises ${rows} rows; expected 1 to ${RAY_FILE_LIMITS.tableRows}.`
    if (!(await bytes.skip(8 * rows))) return 'The file ends inside its spectral tables.'
    taken += 4 + 8 * rows
  }
  const filling = (BLOCK_BYTES - (taken % BLOCK_BYTES)) % BLOCK_BYTES
  return (await bytes.skip(filling)) ? null : 'The file ends inside its spectral tables.'
}

interface Bytes {
  /** So many, or null where the file ends before. */
  exactly(count: number): Promise<Uint8Array | null>
  skip(count: number): Promise<boolean>
  /** Whole units of so many bytes, as many as have come, at most `most` bytes; empty at the end. */
  some(unit: number, most: number): Promise<Uint8Array>
  more(): Promise<boolean>
}

function makeBytes(chunks: AsyncIterable<Uint8Array> | Iterable<Uint8Array>): Bytes {
  const source = Symbol.asyncIterator in chunks ? chunks[Symbol.asyncIterator]() : chunks[Symbol.iterator]()
  let here: Uint8Array = new Uint8Array(0)
  async function pull(): Promise<boolean> {
    const next = await source.next()
    if (next.done) return false
    const joined = new Uint8Array(here.length + next.value.length)
    joined.set(here)
    joined.set(next.value, here.length)
    here = here.length === 0 ? next.value : joined
    return true
  }
  const take = (count: number) => {
    const taken = here.subarray(0, count)
    here = here.subarray(count)
    return taken
  }
  return {
    async exactly(count) {
      while (here.length < count) if (!(await pull())) return null
      return take(count)
    },
    async skip(count) {
      for (let left = count; left > 0; ) {
        if (here.length === 0 && !(await pull())) return false
        left -= take(Math.min(left, here.length)).length
      }
      return true
    },
    async some(unit, most) {
      if (most === 0) return here.subarray(0, 0)
      while (here.length < unit) if (!(await pull())) return here.subarray(0, 0)
      return take(Math.min(most, here.length - (here.length % unit)))
    },
    async more() {
      while (here.length === 0) if (!(await pull())) return false
      return true
    },
  }
}

const viewOf = ({ buffer, byteOffset, byteLength }: Uint8Array) => new DataView(buffer, byteOffset, byteLength)

/** Copied, since single-precision numbers must begin at a multiple of four. */
function floatsOf(bytes: Uint8Array): Float32Array {
  // Not `slice`: that of Node's Buffer copies nothing.
  const copy = new Uint8Array(bytes)
  if (HOST_IS_LITTLE) return new Float32Array(copy.buffer)
  const view = new DataView(copy.buffer)
  return Float32Array.from({ length: copy.length / 4 }, (_, i) => view.getFloat32(4 * i, true))
}
