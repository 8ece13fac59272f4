// Common board layouts from two numbers: a row, a grid, hexagonal rings, a circle.
import { useState } from 'react'
import { LIMITS } from '../../lamp/limits.ts'
import type { Lamp, Site } from '../../lamp/schema.ts'
import { gridSites, hexSites, outlineAround, ringSites, rowSites } from '../../layout/boardDesigner.ts'
import { takenMm } from '../../layout/clearance.ts'
import { design } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { Button } from '../ui/Button.tsx'
import { Choice } from '../ui/Choice.tsx'
import { NumberField } from '../ui/NumberField.tsx'
import { Toggle } from '../ui/Toggle.tsx'
import { ErrorText } from './ErrorText.tsx'
import { withBoardType } from './edits.ts'
import { Part } from './Part.tsx'

type Way = 'row' | 'grid' | 'hex1' | 'hex2' | 'hex3' | 'ring'
const WAYS: readonly { key: Way; name: string }[] = [
  { key: 'row', name: 'in a row' },
  { key: 'grid', name: 'in a grid' },
  { key: 'hex1', name: '7 hexagonal' },
  { key: 'hex2', name: '19 hexagonal' },
  { key: 'hex3', name: '37 hexagonal' },
  { key: 'ring', name: 'on a circle' },
]

export interface BoardPlan {
  way: Way
  count: number
  rows: number
  pitchMm: number
  radiusMm: number
  centre: boolean
}

export function sitesOf(plan: BoardPlan): Site[] {
  switch (plan.way) {
    case 'row':
      return rowSites(plan.count, plan.pitchMm)
    case 'grid':
      return gridSites(plan.count, plan.rows, plan.pitchMm)
    case 'ring':
      return ringSites(plan.count, plan.radiusMm, plan.centre)
    default:
      return hexSites(Number(plan.way.slice(3)), plan.pitchMm)
  }
}

/** Replaces the emitter sites of a board type, with an outline that fits them and their usual optic. */
export function withSites(lamp: Lamp, id: string, plan: BoardPlan, borderMm: number): Lamp {
  const type = lamp.boardTypes.find((t) => t.id === id)!
  const emitter = lamp.emitterTypes.find((e) => e.id === type.emitter)!
  const optic = lamp.opticTypes.find((o) => o.id === lamp.optic)!
  const sites = sitesOf(plan)
  const shape = type.outline.shape === 'star' ? 'disc' : type.outline.shape
  const outline = outlineAround(shape, sites, takenMm(emitter, optic), borderMm)
  return {
    ...withBoardType(lamp, id, { sites, outline }),
    // Emitters are identified by their index: optics and aims of removed sites are removed too.
    boards: lamp.boards.map((b) => {
      if (b.type !== id || !(b.siteOptics || b.siteAims)) return b
      const { siteOptics = {}, siteAims = {}, ...rest } = b
      const optics = Object.entries(siteOptics).filter(([i]) => Number(i) < sites.length)
      const aims = Object.entries(siteAims).filter(([i]) => Number(i) < sites.length)
      return {
        ...rest,
        ...(optics.length > 0 ? { siteOptics: Object.fromEntries(optics) } : {}),
        ...(aims.length > 0 ? { siteAims: Object.fromEntries(aims) } : {}),
      }
    }),
  }
}

export function BoardDesigner({ id }: { id: string }) {
  const [plan, setPlan] = useState<BoardPlan>({
    way: 'hex1',
    count: 3,
    rows: 2,
    pitchMm: 12,
    radiusMm: 12,
    centre: true,
  })
  const [borderMm, setBorder] = useState(0.5)
  const [why, setWhy] = useState<string | null>(null)
  const set = (part: Partial<BoardPlan>) => {
    setPlan({ ...plan, ...part })
    return null
  }
  const { way } = plan
  return (
    <Part of="boardDesigner" title="Set its emitters out" level={3}>
      <Choice label="Emitters" value={way} options={WAYS} onChoose={(key) => set({ way: key })} />
      {(way === 'row' || way === 'ring' || way === 'grid') && (
        <NumberField
          label={way === 'grid' ? 'Across' : 'How many'}
          unit=""
          step={1}
          min={1}
          max={LIMITS.sitesPerBoard}
          integer
          value={plan.count}
          onSet={(count) => set({ count })}
        />
      )}
      {way === 'grid' && (
        <NumberField
          label="Down"
          unit=""
          step={1}
          min={1}
          max={LIMITS.sitesPerBoard}
          integer
          value={plan.rows}
          onSet={(rows) => set({ rows })}
        />
      )}
      {way === 'ring' ? (
        <>
          <NumberField
            label="Radius of the circle"
            unit="mm"
            step={0.5}
            min={0.1}
            max={1000}
            value={plan.radiusMm}
            onSet={(radiusMm) => set({ radiusMm })}
          />
          <Toggle label="One in the middle" value={plan.centre} onChange={(centre) => set({ centre })} />
        </>
      ) : (
        <NumberField
          label="From middle to middle"
          unit="mm"
          step={0.5}
          min={0.1}
          max={1000}
          value={plan.pitchMm}
          onSet={(pitchMm) => set({ pitchMm })}
        />
      )}
      <NumberField
        label="Border around them"
        unit="mm"
        step={0.5}
        min={0}
        max={100}
        value={borderMm}
        description="Between the outermost optic and the edge of the board"
        onSet={(mm) => {
          setBorder(mm)
          return null
        }}
      />
      <div className="parts-buttons">
        <Button
          onPress={() => setWhy(tryEdit(design, 'Board: set out anew', (lamp) => withSites(lamp, id, plan, borderMm)))}
        >
          Set out
        </Button>
      </div>
      <ErrorText why={why} />
    </Part>
  )
}
