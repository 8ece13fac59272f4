// lampwright measure picture: photographs of the lit wall and one reading of a meter, as a set of readings in a copy of the lamp.
import { readFileSync } from 'node:fs'
import { basename } from 'node:path'
import { isPng } from '../files/png.ts'
import { pngPixels } from '../files/pngPixels.ts'
import { readLamp, writeLampText } from '../lamp/read.ts'
import type { Meter } from '../lamp/readings.ts'
import type { Lamp } from '../lamp/schema.ts'
import type { UnitSystem } from '../num/unitSystem.ts'
import { joinShots, type Shot, shadingOf, type WallFields, wallOf } from '../readings/photo/evaluate.ts'
import { readExposure, readExposureTime } from '../readings/photo/exif.ts'
import type { Point } from '../readings/photo/homography.ts'
import { maskedCells, pictureSet } from '../readings/photo/pictureSet.ts'
import { makeBinner } from '../readings/photo/pixels.ts'
import { setWords } from '../report/measuring.ts'
import { EXIT, stripControls, type Tools, UserError } from './io.ts'
import { readFault } from './lampFile.ts'
import type { Parsed } from './options.ts'
import { VERSION } from './version.ts'
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
  const { lamp, files, to } = order
  const times = timesOf(parsed, files.length)
  const wanted = wantedOf(parsed, order.wallM)
  if (to === null && !parsed.flags.has('json'))
    throw new UserError('measure picture puts the readings into a copy of the lamp; --out FILE says where.')
  const strayLx = parsed.values.has('stray') ? numbersOf(parsed, 'stray', 1)[0] : undefined
  const shots = await timedShots(files, times)
  const evenFile = parsed.values.get('even')
  const even = evenFile === undefined ? null : await shotOf(evenFile)
  const [first] = shots
  if (!first) throw new UserError('measure picture needs a PNG picture of the wall behind the lamp’s file.')
  const merging = joinShots(shots)
  if (!merging.ok) throw new UserError(stripControls(merging.why))
  const meter = order.meter ?? lamp.readings?.meter
  const shading = shadingOf(shots, even, merging)
  if (!shading.ok) throw new UserError(stripControls(shading.why))
  const wall = wallOf(merging, shading, inPicture(wanted, first), meter)
  if (!wall?.ok) throw new UserError(stripControls(wall?.why ?? 'The picture gives no map.'))
  const taken = new Set(lamp.readings?.sets.map((s) => s.id))
  let id = 'picture'
  for (let n = 2; taken.has(id); n++) id = `picture ${n}`
  const note = `From ${shots.length === 1 ? 'one photograph' : `${shots.length} exposures`}`
  const bare = pictureSet(wall.map, {
    id,
    distanceM: wanted.distanceM,
    zero: parsed.flags.has('brightest') ? 'brightest' : 'middle',
    strayLx,
    meter: order.meter ?? undefined,
    note,
  })
  const set = order.mode === null ? bare : { ...bare, mode: order.mode }
  const made = readLamp({ ...lamp, readings: { ...lamp.readings, sets: [...(lamp.readings?.sets ?? []), set] } })
  if (!made.ok) throw new UserError(made.why.map(stripControls).join('\n  '))
  if (to !== null) writeFile(to, writeLampText(made.lamp), true)
  const { columns: across, rows: down } = wall.map
  io.out(
    parsed.flags.has('json')
      ? `${JSON.stringify({ version: VERSION, set, cells: { across, down, leftOut: maskedCells(wall.map) } })}\n`
      : `${stripControls(`${id}: ${setWords(set, order.system)}.`)}\nWrote ${stripControls(to ?? '')}.\n`,
  )
  return EXIT.fine
}

/** What is measured on the wall, mm and lx, and the places of it, pixels of the first picture. */
function wantedOf(parsed: Parsed, wallM: number | null) {
  const marks = numbersOf(parsed, 'marks', 8)
  const [widthMm = 0, heightMm = 0] = numbersOf(parsed, 'size', 2)
  const [meterX = 0, meterY = 0] = numbersOf(parsed, 'lux-at', 2)
  const [readLx = 0] = numbersOf(parsed, 'lux', 1)
  if (!(widthMm > 0 && heightMm > 0 && readLx > 0)) throw new UserError('--size and --lux must be above 0.')
  if (wallM === null) throw new UserError('measure picture needs the distance of the wall: --wall METRES.')
  return {
    widthMm,
    heightMm,
    readLx,
    distanceM: wallM,
    cells: CELLS,
    marksPx: [0, 2, 4, 6].map((k): Point => [marks[k] ?? 0, marks[k + 1] ?? 0]),
    meterPx: [meterX, meterY] satisfies Point,
  }
}

/** The same with its places as shares of the picture. */
function inPicture({ marksPx, meterPx, ...wanted }: ReturnType<typeof wantedOf>, { picture }: Shot): WallFields {
  const { columns, rows, binPx } = picture
  const at = ([x, y]: Point): Point => [x / (columns * binPx), y / (rows * binPx)]
  return { ...wanted, marks: marksPx.map(at), meterAt: at(meterPx) }
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

/** What the files say of their exposure holds where no time is given. */
async function timedShots(files: readonly string[], times: readonly number[]): Promise<Shot[]> {
  const shots: Shot[] = []
  for (const [i, file] of files.entries()) {
    const shot = await shotOf(file)
    const timeS = times[i] ?? shot.exposure.timeS
    shots.push({ ...shot, exposure: { ...shot.exposure, timeS } })
  }
  return shots
}

/** One for each picture, s; none where none is given. */
function timesOf(parsed: Parsed, pictures: number): number[] {
  const texts = parsed.values.get('times')?.split(',') ?? []
  const times = texts.map((text) => {
    const timeS = readExposureTime(text)
    if (timeS === null)
      throw new UserError(`--times: ${JSON.stringify(text)} does not fit; expected a time such as 1/250.`)
    return timeS
  })
  if (parsed.values.has('times') && times.length !== pictures)
    throw new UserError(`--times names ${times.length} for ${pictures} pictures; expected one for each, in turn.`)
  return times
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
