// The handbook's pictures, drawn from the examples as the book of a lamp draws them: they can't go out of date.
import { drawSheet, listSheets } from '../src/drawing/sheets.ts'
import type { Sheet } from '../src/job/beam/sheet.ts'
import { runPower } from '../src/job/power/run.ts'
import { traceInNode } from '../src/job/service/node.ts'
import type { Lamp } from '../src/lamp/schema.ts'
import { benchCheck, gannetHead, stileLamp } from '../src/library/demos.ts'
import { binLamp } from '../src/library/demosAssembled.ts'
import { powerOf } from '../src/library/typicalPower.ts'
import { sectionPaths } from '../src/report/book/book.ts'
import { curvesFigure } from '../src/report/book/curvesFigure.ts'
import { drawingFigure } from '../src/report/book/drawingFigure.ts'
import { figureSvg } from '../src/report/book/html.ts'
import type { Figure } from '../src/report/book/model.ts'
import { planFigure } from '../src/report/book/planFigure.ts'
import { profileFigure } from '../src/report/book/profileFigure.ts'
import { sectionFigure } from '../src/report/book/sectionFigure.ts'
import { wiringFigure } from '../src/report/book/wiringFigure.ts'

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
