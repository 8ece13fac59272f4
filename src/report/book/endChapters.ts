// What the book rests on: assumptions, sources, and what makes its numbers come again.

import { degreesC } from '../../checks/words.ts'
import { FIGURE_NAMES, type Sheet } from '../../job/beam/sheet.ts'
import type { DangerReading } from '../../job/danger/result.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { allInSystem, inSystem } from '../../num/quantity.ts'
import type { UnitSystem } from '../../num/unitSystem.ts'
import { engineWords, FIGURE_WORDS } from '../figures.ts'
import { whole } from '../numbers.ts'
import { elementLines, tunnelWords } from '../optics.ts'
import { heading, list, paragraph, table, values } from './blocks.ts'
import { thresholdSources } from './dangerChapter.ts'
import type { Block } from './model.ts'
import type { BookContext, BookResults } from './results.ts'

const SIMPLIFIED: readonly string[] = [
  'Light is rays: no diffraction, no polarisation kept from surface to surface.',
  'Small optics are no obstacle to light that comes back: it lands on the face, or on a board that is tilted by more than 10°.',
  'A collimator by data sheet is an even disc with one profile. An aimed reflector takes its emitter with it.',
  '± is at 95 %, from 16 independent batches of rays: the error of the tracing alone. It says nothing of parts: an emitter’s flux is known to some 7 % at best (common practice, no source), a wall’s reflectance is often a guess, and a tunnel cut by hand is not the one drawn.',
  'Ignition and burn figures scatter by tens of per cent: floors for a warning, never proof of safety.',
]

export function assumptionBlocks(lamp: Lamp, { power }: BookResults, system: UnitSystem): Block[] {
  const assumed = allInSystem(power?.report.assumed ?? [], system)
  return [
    ...(lamp.note === '' ? [] : [heading('Note of the builder'), paragraph(lamp.note)]),
    heading('What light passes'),
    list([...tunnelWords(lamp, system), ...elementLines(lamp, system)]),
    heading('Simplified'),
    list(SIMPLIFIED),
    heading('Taken as typical, since the lamp doesn’t say'),
    power
      ? list(assumed.length > 0 ? assumed : ['Nothing: the document says all that heat and power need.'])
      : paragraph('Heat and power were not run.'),
    heading('Emitters'),
    table(
      lamp.emitterTypes.map((e) => [
        e.name,
        `${e.fluxLm} lm at ${e.ratedCurrentA} A, junction at ${inSystem(degreesC(e.ratedJunctionC), system)}`,
        e.note,
      ]),
      { head: ['Emitter', 'rated', 'note'] },
    ),
  ]
}

export function sourceBlocks({ sheet, danger }: BookResults): Block[] {
  const shown = FIGURE_NAMES.filter((name) => sheet?.figures[name])
  return [
    ...(shown.length > 0
      ? [
          table(
            shown.map((name) => [FIGURE_WORDS[name].name, FIGURE_WORDS[name].how, FIGURE_WORDS[name].source]),
            { head: ['Figure', 'how it is computed', 'source'] },
          ),
        ]
      : []),
    ...(danger ? [heading('Thresholds of harm'), table(thresholdSources(danger), { head: ['What', 'source'] })] : []),
  ]
}

export function originBlocks({ sheet, danger }: BookResults, { version, date, hash }: BookContext): Block[] {
  return [
    paragraph(
      'The lamp’s document is part of the PDF, as the attachment lamp.json. Open the PDF in Lampwright, or name it on the command line where a lamp file is expected: with this version, seed and number of rays the processor traces the same numbers to the last digit.',
    ),
    values([
      ['Program', `Lampwright ${version}`],
      ['Date', date],
      ['Design, SHA-256', hash],
      ...(sheet ? beamRun(sheet) : []),
      ...(danger ? dangerRun(danger) : []),
    ]),
    ...(sheet ? [paragraph(`lampwright trace BOOK.pdf --rays ${sheet.rays} --seed ${sheet.seed}`)] : []),
    ...(danger ? [paragraph(`lampwright danger BOOK.pdf --rays ${danger.rays} --seed ${danger.seed}`)] : []),
  ]
}

const beamRun = (s: Sheet): [string, string][] => [
  ['Beam', `${whole(s.rays)} rays, seed ${s.seed}, ${s.state}`],
  ['Traced by', `${engineWords(s.engine).name}${s.engine === 'gpu' ? `: ${s.engineWhy}` : ''}`],
]
const dangerRun = (d: DangerReading): [string, string][] => [['Danger', `${whole(d.rays)} rays, seed ${d.seed}`]]
