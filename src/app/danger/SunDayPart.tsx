// A day at a latitude and date: the sun's hot spot inside the lamp hour by hour, with or without a cover on the lens.
import type { SunDay } from '../../hazard/sunDay.ts'
import type { SunPlace } from '../../lamp/danger.ts'
import { criticalAt, ignitionMaterial } from '../../library/ignition.ts'
import { frontWord } from '../../library/lensSystem.ts'
import { LANDS_WHERE } from '../../report/danger.ts'
import { THIN, toDigits } from '../common/format.ts'
import { niceAbove } from '../common/niceSteps.ts'
import { useDesign } from '../store/stores.ts'
import { Choice } from '../ui/Choice.tsx'
import { NumberField } from '../ui/NumberField.tsx'
import { setSun } from './edits.ts'
import { coverWords, untilPlastic } from './model/sunWords.ts'
import { staysFor, untilHarm, upTo } from './model/words.ts'
import type { PaneProps } from './pane.ts'

const COVERS = [
  { key: 'off', name: 'no cover' },
  { key: 'on', name: 'covered' },
] as const
const SKIES = [
  { key: 'clear-sky', name: 'clear sky' },
  { key: 'flat', name: 'full sun all day' },
] as const

interface Field {
  key: 'latitudeDeg' | 'month' | 'day' | 'heightM' | 'lensUpDeg' | 'lensTowardsDeg'
  label: string
  unit: 'deg' | 'm' | ''
  min: number
  max: number
  step: number
  description: string
}
const FIELDS: readonly Field[] = [
  {
    key: 'latitudeDeg',
    label: 'Latitude',
    unit: 'deg',
    min: -90,
    max: 90,
    step: 1,
    description: 'North of the equator; south is negative',
  },
  { key: 'month', label: 'Month', unit: '', min: 1, max: 12, step: 1, description: '1 to 12' },
  { key: 'day', label: 'Day', unit: '', min: 1, max: 31, step: 1, description: 'Of the month' },
  {
    key: 'heightM',
    label: 'Height',
    unit: 'm',
    min: 0,
    max: 6000,
    step: 100,
    description: 'Above the sea: thinner air',
  },
  {
    key: 'lensUpDeg',
    label: 'Lens up',
    unit: 'deg',
    min: -90,
    max: 90,
    step: 5,
    description: 'Above the horizon: 90° lies on its back',
  },
  {
    key: 'lensTowardsDeg',
    label: 'towards',
    unit: 'deg',
    min: 0,
    max: 360,
    step: 15,
    description: 'By the compass: 90° is east, 180° south',
  },
]

export function SunDayPart({ reading, cover, onCover }: PaneProps & { cover: boolean; onCover(on: boolean): void }) {
  const own = useDesign((s) => s.lamp.danger?.sun)
  const isOfLens = useDesign((s) => frontWord(s.lamp)) === 'lens'
  const day = reading.sunDay
  if (!day) return null
  const place: SunPlace = own ?? day.place
  return (
    <>
      <div className="danger-fields">
        {FIELDS.map((f) => (
          <NumberField
            key={f.key}
            label={f.key === 'lensUpDeg' && !isOfLens ? 'Front up' : f.label}
            value={place[f.key]}
            unit={f.unit}
            step={f.step}
            min={f.min}
            max={f.max}
            description={f.description}
            onSet={(value) => {
              if ((f.key === 'month' || f.key === 'day') && !Number.isInteger(value)) return 'A whole number.'
              return setSun(f.label, { ...place, [f.key]: value })
            }}
          />
        ))}
      </div>
      <div className="danger-fields">
        <Choice
          label="Sun"
          segments
          value={place.strength}
          options={SKIES}
          onChoose={(strength) => setSun('its strength', { ...place, strength })}
        />
        <Choice
          label={isOfLens ? 'Lens' : 'Front'}
          segments
          value={cover ? 'on' : 'off'}
          options={COVERS}
          onChoose={(k) => onCover(k === 'on')}
        />
      </div>
      <DayCurve day={day} cover={cover} ambientC={reading.ambientC} />
      {cover ? <p>{coverWords(day.coverC)}</p> : <DayWords day={day} />}
    </>
  )
}

const hourText = (hour: number) =>
  `${Math.floor(hour + 1e-9)}:${String(Math.round((hour % 1) * 60) % 60).padStart(2, '0')}`

function DayWords({ day }: { day: SunDay }) {
  if (!day.worst || day.worst.kWm2 === 0)
    return <p className="danger-quiet">On this day, lying like this, no sun comes in.</p>
  const { worst } = day
  const where = worst.lands ? `${LANDS_WHERE[worst.lands]}${worst.board ? ` ${worst.board}` : ''}` : ''
  return (
    <p>
      Worst at {hourText(worst.hour)} solar time:{' '}
      <b data-harmed={day.plasticSeconds !== null || undefined}>{upTo(worst.kWm2)}</b> ({where});{' '}
      {untilPlastic(day.plasticSeconds)}
      {day.staysSeconds === null ? '' : `, and the spot stays on one place for ${staysFor(day.staysSeconds)}`}.
      {day.hoursOverPlastic > 0 &&
        ` Strong enough for that for ${(Math.ceil(10 * day.hoursOverPlastic - 1e-9) / 10).toFixed(1)}${THIN}h of the day.`}
      {day.woodSeconds !== null && ` It chars wood in ${untilHarm(day.woodSeconds)}.`}
    </p>
  )
}

const [W, H, LEFT, FOOT] = [560, 130, 46, 18] as const

function DayCurve({ day, cover, ambientC }: { day: SunDay; cover: boolean; ambientC: number }) {
  const top = niceAbove(Math.max(1, ...day.moments.map((m) => m.kWm2)))
  const x = (hour: number) => LEFT + (hour / 24) * (W - LEFT - 6)
  const y = (kWm2: number) => 6 + (1 - kWm2 / top) * (H - FOOT - 6)
  const plastic = criticalAt(ignitionMaterial('abs'), ambientC)
  const line = day.moments.map(
    (m, i) => `${i === 0 ? 'M' : 'L'}${x(m.hour).toFixed(1)} ${y(cover ? 0 : m.kWm2).toFixed(1)}`,
  )
  return (
    <svg
      className="danger-day"
      viewBox={`0 0 ${W} ${H}`}
      role="img"
      aria-label={`The sun’s spot inside over the day${cover ? ', covered: none' : day.worst ? `, up to ${upTo(day.worst.kWm2)}` : ''}`}
    >
      {[0, top / 2, top].map((v) => (
        <g key={v}>
          <line x1={LEFT} x2={W - 6} y1={y(v)} y2={y(v)} className="danger-grid" />
          <text x={LEFT - 5} y={y(v) + 4} textAnchor="end">
            {toDigits(v)}
          </text>
        </g>
      ))}
      {[0, 6, 12, 18, 24].map((h) => (
        <text key={h} x={x(h)} y={H - 4} textAnchor={h === 24 ? 'end' : 'middle'}>
          {h}
          {THIN}h
        </text>
      ))}
      {plastic < top && (
        <g>
          <line x1={LEFT} x2={W - 6} y1={y(plastic)} y2={y(plastic)} className="danger-limit" />
          <text x={LEFT + 4} y={y(plastic) - 4} className="danger-limit-words">
            plastic can ignite, {toDigits(plastic)}
            {THIN}kW/m²
          </text>
        </g>
      )}
      <path d={line.join('')} className="danger-line" />
    </svg>
  )
}
