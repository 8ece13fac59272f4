// lampwright measure picture: photographs of the lit wall and one reading of a meter, as a set of readings in a copy of the lamp.
import { readFileSync } from 'node:fs'
import { basename } from 'node:path'
import { isPng } from '../files/png.ts'
import { pngPixels } from '../files/pngPixels.ts'
import { readLamp, writeLampText } from '../lamp/read.ts'
import type { Meter } from '../lamp/readings.ts'
import type { Lamp } from '../lamp/schema.ts'
import type { UnitSystem } from '../num/unitSystem.ts'
import { joinShots, type Shot, shadingOf, wallOf } from '../readings/photo/evaluate.ts'
import { readExposure } from '../readings/photo/exif.ts'
import type { Point } from '../readings/photo/homography.ts'
import { pictureSet } from '../readings/photo/pictureSet.ts'
import { makeBinner } from '../readings/photo/pixels.ts'
import { setWords } from '../report/measuring.ts'
import { EXIT, stripControls, type Tools, UserError } from './io.ts'
import { readFault } from './lampFile.ts'
import type { Parsed } from './options.ts'
import { writeFile } from './writeFile.ts'

export interface PictureOrder {
  lamp: Lamp
  files: readonly string[]
  wallM: number | null
  mode: string | null
  meter: Meter | null
  to: string | null
  system: UnitSystem
}

/** Cells along the longer side. */
const CELLS = 31

export async function pictureCommand(parsed: Parsed, order: PictureOrder, { io }: Tools): Promise<number> {
  const { lamp, files, wallM, to } = order
  const marks = numbersOf(parsed, 'marks', 8)
  const [widthMm = 0, heightMm = 0] = numbersOf(parsed, 'size', 2)
  const [meterX = 0, meterY = 0] = numbersOf(parsed, 'lux-at', 2)
  const [readLx = 0] = numbersOf(parsed, 'lux', 1)
  if (!(widthMm > 0 && heightMm > 0 && readLx > 0)) throw new UserError('--size and --lux must be above 0.')
  if (wallM === null) throw new UserError('measure picture needs the distance of the wall: --wall METRES.')
  if (to === null)
    throw new UserError('measure picture puts the readings into a copy of the lamp; --out FILE says where.')
  const shots: Shot[] = []
  for (const file of files) shots.push(await shotOf(file))
  const [first] = shots
  if (!first) throw new UserError('measure picture needs a PNG picture of the wall behind the lamp’s file.')
  const { columns, rows, binPx } = first.picture
  const at = (x: number, y: number): Point => [x / (columns * binPx), y / (rows * binPx)]
  const merging = joinShots(shots)
  if (!merging.ok) throw new UserError(stripControls(merging.why))
  const meter = order.meter ?? lamp.readings?.meter
  const fields = {
    marks: [0, 2, 4, 6].map((k) => at(marks[k] ?? 0, marks[k + 1] ?? 0)),
    meterAt: at(meterX, meterY),
    widthMm,
    heightMm,
    distanceM: wallM,
    readLx,
    cells: CELLS,
  }
  const wall = wallOf(merging, shadingOf(shots, null, merging), fields, meter)
  if (!wall?.ok) throw new UserError(stripControls(wall?.why ?? 'The picture gives no map.'))
  const taken = new Set(lamp.readings?.sets.map((s) => s.id))
  let id = 'picture'
  for (let n = 2; taken.has(id); n++) id = `picture ${n}`
  const note = `From ${shots.length === 1 ? 'one photograph' : `${shots.length} exposures`}`
  const bare = pictureSet(wall.map, {
    id,
    distanceM: wallM,
    zero: parsed.flags.has('brightest') ? 'brightest' : 'middle',
    meter: order.meter ?? undefined,
    note,
  })
  const set = order.mode === null ? bare : { ...bare, mode: order.mode }
  const made = readLamp({ ...lamp, readings: { ...lamp.readings, sets: [...(lamp.readings?.sets ?? []), set] } })
  if (!made.ok) throw new UserError(made.why.map(stripControls).join('\n  '))
  writeFile(to, writeLampText(made.lamp), true)
  io.out(`${stripControls(`${id}: ${setWords(set, order.system)}.`)}\nWrote ${stripControls(to)}.\n`)
  return EXIT.fine
}

/** So many numbers with a comma, or × or x, between. */
function numbersOf(parsed: Parsed, name: string, count: number): number[] {
  const text = parsed.values.get(name)
  const numbers = (text ?? '').split(/[,×x]/).map((part) => (part.trim() === '' ? Number.NaN : Number(part)))
  if (text !== undefined && numbers.length === count && numbers.every((n) => Number.isFinite(n) && n >= 0))
    return numbers
  const wanted = count === 1 ? 'a number' : `${count} numbers`
  throw new UserError(
    text === undefined
      ? `measure picture needs --${name}: ${wanted}.`
      : `--${name}: ${JSON.stringify(text)} does not fit; expected ${wanted}.`,
  )
}

async function shotOf(file: string): Promise<Shot> {
  let bytes: Uint8Array
  try {
    bytes = readFileSync(file)
  } catch (error) {
    throw new UserError(readFault(file, error, 'a picture of the wall'))
  }
  const name = stripControls(basename(file))
  if (!isPng(bytes))
    throw new UserError(`${name} is no PNG picture: save it as PNG, 8 bits, and without changing its tones.`)
  const read = await pngPixels(bytes)
  if (!read.ok) throw new UserError(`${name}: ${read.why}`)
  if (read.widthPx < 64 || read.heightPx < 64)
    throw new UserError(`${name} has ${read.widthPx} × ${read.heightPx} pixels: too few for a map.`)
  const binner = makeBinner(read.widthPx, read.heightPx)
  binner.add(read.rgba)
  return { name, picture: binner.finish(), exposure: readExposure(bytes) }
}
