// The sun: by tilt and azimuth, over a day at a place, and through the lens alone.

import { useState } from 'react'
import { upperKWm2 } from '../../hazard/discs.ts'
import type { SunMapPoint } from '../../hazard/sunMap.ts'
import { criticalAt, ignitionMaterial } from '../../library/ignition.ts'
import { LANDS_WHERE, SUN_NOTE } from '../../report/danger.ts'
import { sunPlaceSentences, turnedSentence } from '../../report/dangerPlaces.ts'
import { clearDistance, formatValue, THIN, toDigits } from '../common/format.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { upTo } from './model/words.ts'
import type { PaneProps } from './pane.ts'
import { showPlace } from './pane.ts'
import { SunDayPart } from './SunDayPart.tsx'
import { SunRose } from './SunRose.tsx'

export function SunPane(p: PaneProps) {
  const system = useUnitSystem()
  const { reading } = p
  const [cover, setCover] = useState(false)
  if (reading.sunMap.length === 0) return <p className="danger-quiet">No sun gets into this lamp.</p>
  return (
    <>
      <h3>From every side</h3>
      <div className="danger-two">
        <SunRose points={reading.sunMap} ambientC={reading.ambientC} />
        <ByTilt {...p} />
      </div>
      <p className="danger-quiet">
        Worst spot anywhere, traced at {toDigits(reading.sunWm2)}
        {THIN}W/m² across the rays, over {formatValue(reading.discMm, 'mm', 2, system)}. Plastic can ignite from{' '}
        {toDigits(criticalAt(ignitionMaterial('abs'), reading.ambientC))}
        {THIN}kW/m² on: those sectors are hatched. {SUN_NOTE}
      </p>
      {sunPlaceSentences(reading, system).map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      <h3>Lying in the sun for a day</h3>
      <SunDayPart {...p} cover={cover} onCover={setCover} />
      <p>{turnedSentence(reading)}</p>
      <h3>The lens alone, before it is built in</h3>
      {reading.bareLens ? (
        <p>
          Up to <b data-harmed>{upTo(reading.bareLens.kWm2)}</b> at {clearDistance(reading.bareLens.focusMm, system)}{' '}
          behind it; the sun’s image is {formatValue(reading.bareLens.sunImageMm, 'mm', 2, system)} across and wanders{' '}
          {formatValue(reading.bareLens.mmPerMinute, 'mm', 2, system)} a minute over the bench.
          {reading.bareLens.before &&
            ` It throws back up to ${upTo(reading.bareLens.before.kWm2)}, ${clearDistance(reading.bareLens.before.distanceMm, system)} before it.`}{' '}
          Keep it wrapped, indoors as well.
        </p>
      ) : (
        <p className="danger-quiet">The lamp has no lens.</p>
      )}
    </>
  )
}

const placeOf = (p: SunMapPoint): string =>
  p.board !== null
    ? `${LANDS_WHERE[p.lands]} ${p.board}`
    : p.flat !== null
      ? `wall, flat ${p.flat + 1}`
      : LANDS_WHERE[p.lands]

function ByTilt({ reading }: PaneProps) {
  const tilts = [...new Set(reading.sunMap.map((p) => p.tiltDeg))]
  const worst = tilts.map((tilt) =>
    reading.sunMap.filter((p) => p.tiltDeg === tilt).reduce((a, b) => (upperKWm2(b) > upperKWm2(a) ? b : a)),
  )
  const ignitesKWm2 = criticalAt(ignitionMaterial('abs'), reading.ambientC)
  return (
    <table className="danger-table">
      <thead>
        <tr>
          <th scope="col">Sun off the axis</th>
          <th scope="col">Up to</th>
          <th scope="col">Lands on</th>
        </tr>
      </thead>
      <tbody>
        {worst.map((p) => (
          <tr key={p.tiltDeg}>
            <th scope="row">{toDigits(p.tiltDeg)}°</th>
            <td data-harmed={upperKWm2(p) >= ignitesKWm2 || undefined}>{upTo(upperKWm2(p))}</td>
            <td>
              <button
                type="button"
                className="danger-where"
                aria-label={`Show the place, sun ${toDigits(p.tiltDeg)}° off the axis: ${placeOf(p)}`}
                onClick={() => showPlace({ kind: 'point', xMm: p.xMm, yMm: p.yMm, zMm: p.zMm, on: 'inside' })}
              >
                {placeOf(p)}
              </button>
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}
