// What a stretch of the tunnel is lined with: a known finish, its three numbers, or a table over the wavelength.
import { useContext } from 'react'
import { stretchesOf } from '../../lamp/assembly.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { tunnel } from '../../lamp/tunnel.ts'
import { WALL_FINISHES } from '../../library/wallFinishes.ts'
import { lineStretch } from '../common/stretchEdits.ts'
import { formatNumber, type Unit } from '../common/units.ts'
import { useDesign } from '../store/stores.ts'
import { LampChoice, LampNumber, LampText, PartName } from './fields.tsx'
import { whiteMean } from './model/whiteMean.ts'
import { PairTable } from './PairTable.tsx'
import { Part } from './Part.tsx'

const of = tunnel.shape
const row = of.reflectanceByNm.unwrap().element.shape

type Surface = 'reflectance' | 'specularShare' | 'scatterDeg'
const SURFACE: readonly { key: Surface; label: string; unit: Unit; step: number; description: string }[] = [
  {
    key: 'reflectance',
    label: 'Reflectance',
    unit: 'share',
    step: 0.01,
    description: 'Share of the light kept at each bounce; the rest heats the wall',
  },
  {
    key: 'specularShare',
    label: 'Specular share',
    unit: 'share',
    step: 0.01,
    description: 'Part of that goes on as from a mirror; the rest spreads everywhere',
  },
  {
    key: 'scatterDeg',
    label: 'Blur of the mirror',
    unit: 'deg',
    step: 0.1,
    description: 'Standard deviation about the mirror direction',
  },
]

const liningOf = (lamp: Lamp, at: number) => (lamp.tunnel ? stretchesOf(lamp.tunnel)[at] : undefined)
const withLining = (lamp: Lamp, at: number, part: Parameters<typeof lineStretch>[2]): Lamp =>
  lamp.tunnel ? { ...lamp, tunnel: lineStretch(lamp.tunnel, at, part) } : lamp

export function Lining({ at }: { at: number }) {
  const byTable = useDesign((s) => liningOf(s.lamp, at)?.reflectanceByNm !== undefined)
  return (
    <>
      <FinishPick at={at} />
      {SURFACE.filter(({ key }) => !(byTable && key === 'reflectance')).map(({ key, ...f }) => (
        <LampNumber
          key={key}
          {...f}
          of={of[key]}
          read={(lamp) => liningOf(lamp, at)?.[key] ?? null}
          write={(lamp, v) => withLining(lamp, at, { [key]: v })}
        />
      ))}
      <ByWavelength at={at} />
    </>
  )
}

/** Id of the known finish that a stretch has, or 'own'. */
function finishAt(lamp: Lamp, at: number): string {
  const lining = liningOf(lamp, at)
  const same = WALL_FINISHES.find(
    (f) =>
      f.reflectance === lining?.reflectance &&
      f.specularShare === lining.specularShare &&
      f.scatterDeg === lining.scatterDeg,
  )
  return lining?.reflectanceByNm ? 'own' : (same?.id ?? 'own')
}

function FinishPick({ at }: { at: number }) {
  const found = useDesign((s) => finishAt(s.lamp, at))
  const note = WALL_FINISHES.find((f) => f.id === found)?.note
  return (
    <>
      <LampChoice
        label="Lining"
        description="Sets reflectance, specular share and blur to those of a known finish"
        options={[
          ...WALL_FINISHES.map((f) => ({ key: f.id, name: f.name })),
          ...(found === 'own' ? [{ key: 'own', name: 'own numbers' }] : []),
        ]}
        read={(lamp) => finishAt(lamp, at)}
        write={(lamp, id) => {
          const finish = WALL_FINISHES.find((f) => f.id === id)
          if (!finish) return lamp
          const { reflectance, specularShare, scatterDeg } = finish
          const own = { reflectanceByNm: undefined, finish: undefined }
          return withLining(lamp, at, { reflectance, specularShare, scatterDeg, ...own })
        }}
      />
      {note && <p className="parts-note">{note}</p>}
    </>
  )
}

/** Fold: a measured sheet's name and its reflectance over the wavelength. */
function ByWavelength({ at }: { at: number }) {
  const part = useContext(PartName)
  const gist = useDesign((s) => {
    const lining = liningOf(s.lamp, at)
    return lining?.finish ?? (lining?.reflectanceByNm ? `${formatNumber(lining.reflectance, 3)} over white` : '')
  })
  return (
    <Part
      of={`lining${at}`}
      title="Own lining"
      name={`Own lining of stretch ${at + 1}`}
      summary={gist || undefined}
      level={4}
      edits={part}
    >
      <LampText
        label="Its name"
        description="For the drawings; nothing is computed from it"
        read={(lamp) => liningOf(lamp, at)?.finish ?? ''}
        write={(lamp, text) => withLining(lamp, at, { finish: text === '' ? undefined : text })}
      />
      <PairTable
        title="Reflectance over wavelength"
        first={{ key: 'nm', name: 'nm', unit: 'nm', of: row.nm, step: 5 }}
        second={{ key: 'reflectance', name: 'Reflects', unit: 'share', of: row.reflectance, step: 0.01 }}
        least={0}
        empty="None: the same reflectance for all colours."
        add={nextRows}
        read={(lamp) => liningOf(lamp, at)?.reflectanceByNm ?? []}
        write={(lamp, rows) =>
          withLining(
            lamp,
            at,
            rows.length > 0 ? { reflectanceByNm: rows, reflectance: whiteMean(rows) } : { reflectanceByNm: undefined },
          )
        }
      />
      <Mean at={at} />
    </Part>
  )
}

function Mean({ at }: { at: number }) {
  const words = useDesign((s) => {
    const lining = liningOf(s.lamp, at)
    return lining?.reflectanceByNm ? `Over white light it reflects ${formatNumber(lining.reflectance, 3)}.` : ''
  })
  return <p className="parts-note">{words}</p>
}

type Row = { nm: number; reflectance: number }
const FIRST_NM = 400
const LAST_NM = 800

/** The first row stands at the blue end, each later one 50 nm on. */
export function nextRows(rows: readonly Row[]): Row[] {
  const last = rows.at(-1)
  if (!last) return [{ nm: FIRST_NM, reflectance: 0.87 }]
  const nm = last.nm < LAST_NM - 50 ? last.nm + 50 : (last.nm + 830) / 2
  return [...rows, { nm: Math.round(10 * nm) / 10, reflectance: last.reflectance }]
}
