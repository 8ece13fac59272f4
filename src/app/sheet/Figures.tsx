import { memo } from 'react'
import { FIGURE_NAMES, type Figure, type FigureName, type Sheet } from '../../job/beam/sheet.ts'
import { DOUBT_NOTE, partsDoubt } from '../../report/doubt.ts'
import { FIGURE_WORDS } from '../../report/figures.ts'
import { floorWords } from '../../report/floor.ts'
import { lightWords } from '../../report/light.ts'
import { buildingWords, rangeWords } from '../common/buildingWords.ts'
import {
  figureInDoubt,
  formatFigure,
  formatValue,
  roundUp,
  THIN,
  TRACED_DIGITS,
  toDigits,
  withUnit,
} from '../common/format.ts'
import { useDesign } from '../store/stores.ts'
import { spreadOfFigure, useTolerances } from '../store/tolerances.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { useSheet } from './contexts.ts'
import { ExplainedName } from './Part.tsx'
import { PHYSICS_PAGES } from './physicsPages.ts'
import { noneWords } from './words.ts'

const HEADLINE: readonly FigureName[] = [
  'fluxOutLm',
  'efficiency',
  'axialIntensityCd',
  'peakIntensityCd',
  'beamAngleDeg',
  'fieldAngleDeg',
  'beamDistanceM',
  'targetCentreLx',
]

/** Where the beam angle jumps from ring to ring by noise, the cone of half the light stands in its place. */
export const patternedName = (name: FigureName, sheet: Sheet): FigureName =>
  sheet.patterned && name === 'beamAngleDeg' ? 'halfFluxAngleDeg' : name

const headlineOf = (sheet: Sheet) => HEADLINE.map((name) => patternedName(name, sheet))

const reason = (sheet: Sheet, name: FigureName) => sheet.absent[name] ?? 'not read from this run'

/** The light that the lumens refer to, with a link to its setting. */
export function LightLine() {
  const system = useUnitSystem()
  const { sheet } = useSheet()
  return (
    <p className="sheet-light" data-mode={sheet.light.kind === 'mode' || undefined}>
      {lightWords(sheet.light, system)}.
    </p>
  )
}

/** A figure large, with its ± and how it is computed. What is in it follows the sheet by itself. */
export const FigureTile = memo(TileOfFigure)

function TileOfFigure({ name }: { name: FigureName }) {
  const words = FIGURE_WORDS[name]
  return (
    <ExplainedName
      className="sheet-tile"
      name={words.short ?? words.name}
      how={words.how}
      source={words.source}
      level={3}
      page={PHYSICS_PAGES[name]}
      more={<More name={name} />}
    >
      <TileNote name={name} />
      <TileValue name={name} />
    </ExplainedName>
  )
}

/** All digits, for whoever asks for them, and what they are worth. */
function More({ name }: { name: FigureName }) {
  const { sheet } = useSheet()
  const system = useUnitSystem()
  const figure = sheet.figures[name]
  return (
    <>
      {figure && (
        <p>
          As traced: {formatFigure(figure, FIGURE_WORDS[name].unit, system).text}. {partsDoubt(name) > 0 && DOUBT_NOTE}
        </p>
      )}
      <ForwardBackward name={name} />
    </>
  )
}

/** The forward and the backward estimate of a figure. */
function ForwardBackward({ name }: { name: FigureName }) {
  const system = useUnitSystem()
  const { sheet } = useSheet()
  const estimates = sheet.forwardBackward.find(({ figure }) => figure === name)
  if (!estimates) return null
  const { forward, backward, apart } = estimates
  const words = (figure: Figure) => formatFigure(figure, FIGURE_WORDS[name].unit, system).text
  return (
    <p>
      Forward: {words(forward)}. Backward: {words(backward)}. They lie {toDigits(apart, 2)} standard errors apart.
    </p>
  )
}

/** What a figure is of: settings that it depends on, and where it isn't what its neighbours are of. */
function TileNote({ name }: { name: FigureName }) {
  const coneHalfDeg = useDesign((s) => s.lamp.reading.axialConeHalfDeg)
  const system = useUnitSystem()
  const targetM = useDesign((s) => s.lamp.target.distanceM)
  const { sheet } = useSheet()
  // Nearer than that the target's light is not axis / distance².
  const near = targetM < (sheet.figures.inverseSquareFromM?.value ?? 0)
  const note: Partial<Record<FigureName, string>> = {
    axialIntensityCd: `${toDigits(2 * coneHalfDeg)}° cone`,
    beamDistanceM: `peak ¼${THIN}lx`,
    targetCentreLx: `${near ? 'near field, ' : 'at '}${formatValue(targetM, 'm', 3, system)}`,
  }
  return note[name] ? <span className="sheet-tile-note">{note[name]}</span> : null
}

function TileValue({ name }: { name: FigureName }) {
  const system = useUnitSystem()
  const { sheet } = useSheet()
  const figure = sheet.figures[name]
  if (!figure) return <p className="sheet-absent">{noneWords(reason(sheet, name))}</p>
  const { unit } = FIGURE_WORDS[name]
  const shown = formatFigure(figure, unit, system, TRACED_DIGITS)
  const doubt = partsDoubt(name)
  const { value, pm } = figureInDoubt(figure, unit, doubt, system)
  return (
    <>
      <p className="sheet-big" title={`${shown.text}, ± of tracing`}>
        <data value={shown.value.replaceAll(THIN, '')}>{value}</data>
        <span className={shown.unit === '°' ? 'sheet-unit sheet-unit-degree' : 'sheet-unit'}>{shown.unit}</span>
      </p>
      <div className="sheet-under">
        <p className="sheet-pm">{pm === '' || pm === 'exact' ? pm : `± ${withUnit(pm, shown.unit)}`}</p>
        {doubt > 0 && (
          <p className="sheet-doubt" title={DOUBT_NOTE}>
            parts ± {roundUp(100 * doubt, 1)}
            {THIN}%
          </p>
        )}
        <Building name={name} />
      </div>
    </>
  )
}

/** ± of building beside that of tracing, where many lamps have been built within this one's tolerances. */
function Building({ name }: { name: FigureName }) {
  const system = useUnitSystem()
  const lamp = useDesign((s) => s.lamp)
  const spread = useTolerances((s) => spreadOfFigure(s.run, lamp, name))
  if (!spread) return null
  return (
    <p className="sheet-building" title={rangeWords(spread, system)}>
      built {buildingWords(spread, system)}
    </p>
  )
}

/** How it is computed, and why its ± gets no smaller. */
const howOf = (name: FigureName, sheet: Sheet) => [FIGURE_WORDS[name].how, floorWords(name, sheet)].join(' ').trim()

export function OtherFigures() {
  const { sheet } = useSheet()
  const headline = headlineOf(sheet)
  return (
    <div className="sheet-rows">
      {FIGURE_NAMES.filter((name) => !headline.includes(name)).map((name) => (
        <FigureRow key={name} name={name} how={howOf(name, sheet)} />
      ))}
    </div>
  )
}

const FigureRow = memo(({ name, how }: { name: FigureName; how: string }) => {
  const words = FIGURE_WORDS[name]
  return (
    <ExplainedName className="sheet-row" name={words.name} how={how} source={words.source} page={PHYSICS_PAGES[name]}>
      <RowValue name={name} />
    </ExplainedName>
  )
})

function RowValue({ name }: { name: FigureName }) {
  const system = useUnitSystem()
  const { sheet } = useSheet()
  const figure = sheet.figures[name]
  return figure ? (
    <>
      <span className="sheet-row-value">{formatFigure(figure, FIGURE_WORDS[name].unit, system).text}</span>
      <Building name={name} />
    </>
  ) : (
    <span className="sheet-absent">{noneWords(reason(sheet, name))}</span>
  )
}

export function PatternWarning() {
  const { sheet } = useSheet()
  if (!sheet.patterned) return null
  const { halfFluxAngleDeg: half, ninetyFluxAngleDeg: ninety } = sheet.figures
  return (
    <details className="sheet-pattern">
      <summary>
        <strong>The beam is a picture of the array:</strong> angles can jump.
      </summary>
      <p>
        It falls through half or a tenth of its peak more than once, so beam and field angle can jump from ring to ring.
        The half-flux angle stands first.{' '}
        {half && ninety && (
          <>
            Half the light lies within {formatFigure(half, 'deg').text}, nine tenths within{' '}
            {formatFigure(ninety, 'deg').text}.
          </>
        )}
      </p>
    </details>
  )
}
