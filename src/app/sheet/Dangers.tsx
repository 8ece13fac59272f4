import { Button, Disclosure, DisclosurePanel } from 'react-aria-components'
import type { Finding, Place } from '../../checks/finding.ts'
import type { HotSpotName, Sheet } from '../../job/sheet.ts'
import { HOT_SPOT_WORDS, LANDS_WORDS } from '../../job/words.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { roundedDown, roundedUp, showFigure, THIN, toDigits, upperEnd } from '../measure/format.ts'
import { How, Part } from './Part.tsx'
import { SeverityMark } from './SeverityMark.tsx'
import { bySeverity, placeWords, pointWords, SEVERITY_WORDS } from './sheetWords.ts'

interface Props {
  sheet: Sheet
  lamp: Lamp
  unfinished: boolean
  onPlace: (place: Place) => void
}

export function Findings({ sheet, lamp, unfinished, onPlace }: Props) {
  const findings = bySeverity(sheet.findings)
  return (
    <>
      {unfinished && <p className="sheet-still-rough">Figures still rough; the upper end of ± is used.</p>}
      {findings.length === 0 && (
        <p className="sheet-quiet">No rule found anything. That is no proof that the lamp is safe.</p>
      )}
      <ul className="sheet-findings">
        {findings.map((f, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: two findings of a rule may read alike
          <li key={`${f.rule} ${i}`} data-severity={f.severity}>
            <FindingText finding={f} lamp={lamp} onPlace={onPlace} />
          </li>
        ))}
      </ul>
    </>
  )
}

function FindingText({ finding: f, lamp, onPlace }: { finding: Finding; lamp: Lamp; onPlace: (place: Place) => void }) {
  return (
    <>
      <p className="sheet-finding-title">
        <SeverityMark severity={f.severity} />
        <span className="sheet-severity">{SEVERITY_WORDS[f.severity]}</span>
        {f.title}
      </p>
      <p>
        <b>Do:</b> {f.cure}
      </p>
      <Disclosure className="sheet-finding-why" defaultExpanded={f.severity === 'severe'}>
        <div className="sheet-finding-foot">
          <button
            type="button"
            className="sheet-where"
            onClick={() => onPlace(f.place)}
            aria-label={`Show ${placeWords(f.place, lamp)}`}
          >
            {placeWords(f.place, lamp)}
          </button>
          <Button slot="trigger" className="sheet-how" aria-label={`Why: ${f.title}`}>
            why
          </Button>
        </div>
        <DisclosurePanel className="sheet-panel sheet-why">{f.why}</DisclosurePanel>
      </Disclosure>
    </>
  )
}

const SPOTS: readonly HotSpotName[] = ['front', 'lens', 'wall', 'face', 'sunInside']
const ON: Record<HotSpotName, Extract<Place, { kind: 'point' }>['on']> = {
  front: 'front',
  lens: 'lens',
  wall: 'wall',
  face: 'face',
  sunInside: 'inside',
}

/** Highest irradiance of all, at the upper end of ±, for the folded head. */
export function worstSpot(sheet: Sheet): string | undefined {
  const all = Object.values(sheet.hotSpots)
  if (all.length === 0) return undefined
  return `up to ${roundedUp(Math.max(...all.map((s) => upperEnd(s.kWm2, s.se))))}${THIN}kW/m²`
}

export function HotSpots({ sheet, onPlace }: Pick<Props, 'sheet' | 'onPlace'>) {
  return (
    <div className="sheet-rows">
      {SPOTS.map((name) => {
        const spot = sheet.hotSpots[name]
        const { name: title, how } = HOT_SPOT_WORDS[name]
        return (
          <How key={name} className="sheet-row sheet-spot" name={title} how={how} level={5}>
            {spot ? (
              <>
                <span className="sheet-row-value">{showFigure({ value: spot.kWm2, se: spot.se }, 'kW/m²').text}</span>
                <span className="sheet-spot-more">
                  <button
                    type="button"
                    className="sheet-where"
                    aria-label={`Show ${title}, ${pointWords(spot)}`}
                    onClick={() =>
                      onPlace({ kind: 'point', xMm: spot.xMm, yMm: spot.yMm, zMm: spot.zMm, on: ON[name] })
                    }
                  >
                    {pointWords(spot)}
                  </button>
                  <span>
                    ⌀ {toDigits(spot.discMm, 2)}
                    {THIN}mm
                  </span>
                  <span className="sheet-counts">
                    counts as {roundedUp(upperEnd(spot.kWm2, spot.se))}
                    {THIN}kW/m²
                  </span>
                </span>
              </>
            ) : (
              <span className="sheet-absent">None: {sheet.absent[name] ?? 'not searched yet'}</span>
            )}
          </How>
        )
      })}
    </div>
  )
}

export function SunByTilt({ sheet }: { sheet: Sheet }) {
  if (sheet.sun.length === 0)
    return (
      <p className="sheet-quiet">{sheet.absent.sunInside ? `None: ${sheet.absent.sunInside}.` : 'Tracing the sun…'}</p>
    )
  const top = Math.max(...sheet.sun.map((s) => s.kWm2))
  return (
    <table className="sheet-table">
      <thead>
        <tr>
          <th scope="col">Tilt</th>
          <th scope="col">Worst inside</th>
          <th scope="col">Lands</th>
          <th scope="col">z</th>
        </tr>
      </thead>
      <tbody>
        {sheet.sun.map((s) => (
          <tr key={s.tiltDeg}>
            <th scope="row">{toDigits(s.tiltDeg, 3)}°</th>
            <td>
              {showFigure({ value: s.kWm2, se: s.se }, 'kW/m²').text}
              <span className="sheet-bar" aria-hidden="true">
                <span style={{ width: `${(100 * s.kWm2) / top}%` }} />
              </span>
            </td>
            <td className="sheet-words">{LANDS_WORDS[s.lands]}</td>
            <td>
              {toDigits(Math.round(s.zMm), 6)}
              {THIN}mm
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

export function Materials({ sheet }: { sheet: Sheet }) {
  if (sheet.risks.length === 0) return <p className="sheet-quiet">Not searched yet.</p>
  return (
    <>
      <table className="sheet-table">
        <thead>
          <tr>
            <th scope="col">What stands there</th>
            <th scope="col">Time at the worst place</th>
            <th scope="col">Keep clear</th>
          </tr>
        </thead>
        <tbody>
          {sheet.risks.map((r) => (
            <tr key={r.material} data-burns={r.secondsAtWorst !== null || undefined}>
              <th scope="row">
                {r.material}
                <span className="sheet-source">
                  from {toDigits(r.criticalKWm2, 3)}
                  {THIN}kW/m²; {r.source}
                </span>
              </th>
              <td>{r.secondsAtWorst === null ? 'stays below' : `${roundedDown(r.secondsAtWorst)}${THIN}s`}</td>
              <td>{r.clearDistanceMm === 0 ? 'none' : `${roundedUp(r.clearDistanceMm / 1000)}${THIN}m`}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="sheet-quiet">
        Times are estimates for thick, dark, dry material, rounded down; distances from the front of the lamp, rounded
        up.
      </p>
    </>
  )
}

/** Everything about heat and fire: the list first, then the tables it rests on. */
export function Dangers(props: Props) {
  const { sheet, onPlace } = props
  const sun = sheet.sun.length ? Math.max(...sheet.sun.map((s) => upperEnd(s.kWm2, s.se))) : null
  const clear = sheet.risks.length ? Math.max(...sheet.risks.map((r) => r.clearDistanceMm)) : null
  return (
    <>
      <Findings {...props} />
      <Part level={4} title="Hot spots" aside={worstSpot(sheet)} open={false}>
        <HotSpots sheet={sheet} onPlace={onPlace} />
      </Part>
      <Part
        level={4}
        title="Sun by tilt"
        aside={sun === null ? undefined : `up to ${roundedUp(sun)}${THIN}kW/m² inside`}
        open={false}
      >
        <SunByTilt sheet={sheet} />
      </Part>
      <Part
        level={4}
        title="Materials in front"
        aside={
          clear === null ? undefined : clear === 0 ? 'none in danger' : `keep ${roundedUp(clear / 1000)}${THIN}m clear`
        }
        open={false}
      >
        <Materials sheet={sheet} />
      </Part>
    </>
  )
}
