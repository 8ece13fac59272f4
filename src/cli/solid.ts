// lampwright solid: a part of the lamp as a solid, for printing (STL) or for other programs (GLB).
import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { checkDesign } from '../checks/check.ts'
import { findingsIn } from '../checks/finding.ts'
import { partGlb, partStl } from '../files/solidFiles.ts'
import type { Lamp } from '../lamp/schema.ts'
import { workshopOf } from '../library/typicalWorkshop.ts'
import { allInSystem, inSystem, sizeNumber, sizeText } from '../num/quantity.ts'
import type { UnitSystem } from '../num/unitSystem.ts'
import { massWords } from '../report/partsTable.ts'
import { type Kernel, loadKernel } from '../solids/kernel.ts'
import { isPrinted, listParts, PARTS, type PartName } from '../solids/parts.ts'
import { columns, wrapped } from './format.ts'
import { EXIT, stripControls, type Tools, UserError } from './io.ts'
import { openLamp } from './lampFile.ts'
import { didYouMean } from './nearest.ts'
import { onlyPositional, type Parsed, UNITS, unitsOf } from './options.ts'
import { severeLine } from './severeLine.ts'
import { expectWritable, writeFile } from './writeFile.ts'

export const SOLID_OPTIONS = {
  part: { type: 'string', value: 'NAME' },
  format: { type: 'string', value: 'glb|stl' },
  out: { type: 'string', value: 'FILE' },
  list: { type: 'boolean' },
  units: UNITS,
  force: { type: 'boolean' },
  help: { type: 'boolean' },
} as const

const WIDTH = 96
const FORMATS = ['glb', 'stl'] as const
type Format = (typeof FORMATS)[number]

export async function solidCommand(parsed: Parsed, { io }: Tools): Promise<number> {
  const system = unitsOf(parsed)
  const lamp = await openLamp(onlyPositional(parsed, 'a lamp file or the name of an example', 'solid'))
  if (parsed.flags.has('list')) {
    io.out(listText(lamp, system))
    return EXIT.fine
  }
  const part = chosenPart(parsed)
  const format = chosenFormat(parsed, part)
  const out = parsed.values.get('out')
  const over = parsed.flags.has('force')
  if (out !== undefined && !isPrinted(part)) expectWritable(out, over)
  const { files, notes } = await filesOf(lamp, part, format, out, system)
  // A file in the way is found before the first is written.
  for (const { path } of files) expectWritable(path, over)
  for (const { path, bytes } of files) writeFile(path, bytes, over)
  const wrote = files.map(({ path, words }) => `Wrote ${stripControls(path)}: ${stripControls(words)}.`)
  io.out(`${[...wrote, ...notes.map((n) => wrapped(stripControls(n), WIDTH, '  '))].join('\n')}\n`)
  io.err(severeLine(findingsIn(checkDesign(lamp), system), ' All of them: lampwright check.'))
  return EXIT.fine
}

interface PartFile {
  path: string
  words: string
  bytes: Uint8Array
}

async function filesOf(
  lamp: Lamp,
  part: PartName,
  format: Format,
  out: string | undefined,
  system: UnitSystem,
): Promise<{ files: PartFile[]; notes: string[] }> {
  const kernel = await kernelHere()
  const whole = out ?? `${fileName(`${lamp.name}-${part}`)}.${format}`
  const refused = (why: string) => new UserError(stripControls(`${part} can’t be made: ${inSystem(why, system)}`))
  if (format === 'glb') {
    const made = await partGlb(kernel, lamp, part)
    if (!made.ok) throw refused(made.why)
    const { bytes, parts } = made
    return {
      files: [{ path: whole, bytes, words: `${parts} ${parts === 1 ? 'part' : 'parts'} by name, metres, +Y up` }],
      notes: allInSystem(made.notes, system),
    }
  }
  const made = partStl(kernel, lamp, part)
  if (!made.ok) throw refused(made.why)
  const isOne = made.files.length === 1
  const files = made.files.map(({ name, count, bytes, massG }) => ({
    path: isOne ? whole : beside(out ?? fileName(lamp.name), `${name}${count > 1 ? ` ${count}x` : ''}`),
    words: `${name}, ${count > 1 ? `wanted ${count} times, ` : ''}${massG === undefined ? '' : `${massWords(massG, system)} when filled, `}mm`,
    bytes,
  }))
  return { files, notes: allInSystem(made.notes, system) }
}

/** The kernel with its bytes from the package. */
const kernelHere = (): Promise<Kernel> =>
  loadKernel(readFileSync(createRequire(import.meta.url).resolve('manifold-3d/manifold.wasm')))

/** ring.stl and "lip, piece 1": ring-lip-piece-1.stl. */
const beside = (out: string, what: string): string => `${out.replace(/\.stl$/i, '')}-${fileName(what)}.stl`

function chosenPart(parsed: Parsed): PartName {
  const text = parsed.values.get('part')
  const names = PARTS.map((p) => p.name)
  if (text === undefined) throw new UserError(`solid needs --part NAME; there is ${names.join(', ')} (see --list).`)
  const found = names.find((n) => n === text)
  if (found) return found
  throw new UserError(stripControls(`No part ${text}${didYouMean(text, names)}; there is ${names.join(', ')}.`))
}

function chosenFormat(parsed: Parsed, part: PartName): Format {
  const text = parsed.values.get('format')
  if (text === undefined) return isPrinted(part) ? 'stl' : 'glb'
  const found = FORMATS.find((f) => f === text.toLowerCase())
  if (found) return found
  throw new UserError(`--format: ${JSON.stringify(text)} does not fit; expected ${FORMATS.join(' or ')}.`)
}

const size = (mm: number): string => sizeText(String(mm), mm)

function listText(lamp: Lamp, system: UnitSystem): string {
  const listed = allInSystem(listParts(lamp), system)
  const made = listed.flatMap((p) => (p.ok ? [[p.name, p.title]] : []))
  const refused = listed.flatMap((p) => (p.ok ? [] : [`${p.name}: ${stripControls(p.why ?? '')}`]))
  const { bedXMm, bedYMm, bedZMm, wallMm, clearanceMm } = workshopOf(lamp).printer
  const lines = [
    `${stripControls(lamp.name)}: parts as solids`,
    ...columns(made).map((l) => `  ${l}`),
    ...(refused.length > 0 ? ['', 'Not made'] : []),
    ...refused.map((l) => `  ${wrapped(l, WIDTH, '    ')}`),
    '',
    inSystem(
      `Printed on a bed of ${sizeNumber(String(bedXMm), bedXMm)} × ${size(bedYMm)}, ${size(bedZMm)} high, with walls of ${size(wallMm)} and ${size(clearanceMm)} of clearance.`,
      system,
    ),
  ]
  return `${lines.join('\n')}\n`
}

/** Letters, digits, hyphens: a name that every file system takes. */
const fileName = (text: string): string =>
  text
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 100) || 'part'
