// The handbook's pictures, drawn from the examples as the book of a lamp draws them: they can't go out of date.
import { drawSheet, listSheets } from '../src/drawing/sheets.ts'
import type { Sheet } from '../src/job/beam/sheet.ts'
import { runPower } from '../src/job/power/run.ts'
import { traceInNode } from '../src/job/service/node.ts'
import { traceCellSheet, traceLight } from '../src/job/sweep/cell.ts'
import { buildLamp } from '../src/job/tolerances/build.ts'
import { makeDeviations, variedOf } from '../src/job/tolerances/design.ts'
import type { Lamp } from '../src/lamp/schema.ts'
import { benchCheck, gannetHead, stileLamp } from '../src/library/demos.ts'
import { binLamp } from '../src/library/demosAssembled.ts'
import { powerOf } from '../src/library/typicalPower.ts'
import { sectionPaths } from '../src/report/book/book.ts'
import { curvesFigure } from '../src/report/book/curvesFigure.ts'
import { drawingFigure } from '../src/report/book/drawingFigure.ts'
import { figureSvg } from '../src/report/book/html.ts'
import type { Figure, Style } from '../src/report/book/model.ts'
import { planFigure } from '../src/report/book/planFigure.ts'
import { profileFigure } from '../src/report/book/profileFigure.ts'
import { sectionFigure } from '../src/report/book/sectionFigure.ts'
import { wiringFigure } from '../src/report/book/wiringFigure.ts'
import { linesFigure } from './linesFigure.ts'

/** Enough for a smooth curve; the same rays every time. */
const OPTIONS = { seed: 1, maxRays: 1 << 14, precision: 0, background: false, threads: 0 }

/** SVG by file name without its ending. The same text at every call. */
export async function handbookPictures(): Promise<Record<string, string>> {
  const [gannet, bin, stile, bench] = [gannetHead(), binLamp(), stileLamp(), benchCheck()]
  const [ofGannet, ofBin, ofBench] = [await trace(gannet), await trace(bin), await trace(bench)]
  const power = runPower(gannet, { mode: powerOf(gannet).value.modes.at(-1)?.id })
  const turbo = power.modes[0]
  const figures: Record<string, Figure | null> = {
    'first-lamp': sectionFigure(gannet, sectionPaths(ofGannet)),
    boards: planFigure(gannet),
    profile: profileFigure(ofGannet),
    lens: sectionFigure(bench, sectionPaths(ofBench)),
    tunnel: sectionFigure(bin, sectionPaths(ofBin)),
    sheet: profileFigure(ofBin),
    sun: sectionFigure(gannet),
    heat: turbo ? curvesFigure(turbo) : null,
    wiring: wiringFigure(power, new Set()),
    cutting: development(gannet),
    'power-up': planFigure(stile),
    measuring: profileFigure(ofBench),
    best: await bestFigure(bench),
    tolerances: await builtFigure(bench),
    comparing: await comparedFigure(bench),
  }
  return Object.fromEntries(
    Object.entries(figures).map(([name, figure]) => {
      if (!figure) throw new Error(`handbook: nothing to draw for ${name}`)
      return [name, `${figureSvg(figure, true)}\n`]
    }),
  )
}

const trace = (lamp: Lamp): Promise<Sheet> => traceInNode(lamp, OPTIONS)

/** The first blank of the tunnel, laid flat. */
function development(lamp: Lamp): Figure | null {
  const name = listSheets(lamp).find((s) => s.ok && s.name.startsWith('tunnel'))?.name
  const drawn = name ? drawSheet(lamp, name, { date: '2000-01-01', hash: '', withKerf: false }) : null
  return drawn?.ok ? drawingFigure(drawn.drawing) : null
}

const CELL = { seed: 1, rays: 1 << 12 }
const BROAD = { stroke: '#8a5a00', width: 1.3 }
const THIN = { stroke: '#8a5a00', width: 0.4 }
const OTHER = { stroke: '#1f5a80', width: 1.3, dash: [5, 2] }

const lensAt = (lamp: Lamp, zMm: number): Lamp => ({ ...lamp, lens: lamp.lens && { ...lamp.lens, zMm } })

/** Axial intensity over the place of the lens: a search walks up this hill. */
async function bestFigure(lamp: Lamp): Promise<Figure> {
  const zMm = lamp.lens?.zMm ?? 0
  const places = Array.from({ length: 9 }, (_, i) => zMm * (0.84 + 0.04 * i))
  const kcd: number[] = []
  for (const z of places) {
    const lit = await traceLight(lensAt(lamp, z), CELL)
    kcd.push((lit?.figures.axialIntensityCd?.value ?? 0) / 1000)
  }
  const best = kcd.indexOf(Math.max(...kcd))
  const axes = {
    x: 'the lens stands at z, mm',
    y: 'kcd on the axis',
    fromX: places[0] ?? 0,
    toX: places.at(-1) ?? 1,
    words: 'Axial intensity over the place of the lens, with its best place.',
  }
  return linesFigure([{ x: places, y: kcd, style: BROAD }], axes, [[places[best] ?? 0, kcd[best] ?? 0]])
}

/** The lamp as drawn and as it may come out of the workshop. */
async function builtFigure(lamp: Lamp): Promise<Figure> {
  const deviations = makeDeviations(variedOf(lamp), 1)
  const built = [1, 2, 3, 4, 5, 6, 7, 8].map((i) => buildLamp(lamp, deviations(i)).lamp)
  return await profilesFigure(
    [lamp, ...built],
    (i) => (i === 0 ? BROAD : THIN),
    'Profiles of a lamp as drawn and of eight that were built within its tolerances.',
  )
}

/** The lens nearer to the face. */
const comparedFigure = (lamp: Lamp): Promise<Figure> =>
  profilesFigure(
    [lamp, lensAt(lamp, 0.9 * (lamp.lens?.zMm ?? 0))],
    (i) => (i === 0 ? BROAD : OTHER),
    'Profiles of two lamps on one pair of axes: the same lamp, its lens a tenth nearer to the face.',
  )

async function profilesFigure(lamps: readonly Lamp[], styleOf: (i: number) => Style, words: string): Promise<Figure> {
  const lines: Parameters<typeof linesFigure>[0][number][] = []
  let toX = 0
  for (const [i, lamp] of lamps.entries()) {
    const sheet = await traceCellSheet(lamp, CELL)
    if (!sheet) throw new Error('handbook: a lamp for a profile does not shine')
    toX = Math.max(toX, 0.8 * (sheet.figures.fieldAngleDeg?.value ?? 10))
    lines.push({ x: sheet.profile.thetaDeg, y: Array.from(sheet.profile.cd, (cd) => cd / 1000), style: styleOf(i) })
  }
  return linesFigure(lines.toReversed(), { x: '° from the axis', y: 'kcd', fromX: 0, toX, words })
}
