// Cutter, sheets, seams, lens ring, printer and paper: what drawings, solids and the parts list rest on. No light is traced of it.

import type { z } from 'zod'
import type { Lamp, Workshop } from '../../lamp/schema.ts'
import { workshop as schema } from '../../lamp/workshop.ts'
import { type FullWorkshop, workshopOf } from '../../library/typicalWorkshop.ts'
import type { UnitSystem } from '../common/unitSystem.ts'
import type { Unit } from '../common/units.ts'
import { valueText } from '../common/units.ts'
import { useDesign } from '../store/stores.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { useWorkshop, workshop } from '../store/workshop.ts'
import { Button } from '../ui/Button.tsx'
import { LampChoice, LampNumber, LampText } from './fields.tsx'
import { Part } from './Part.tsx'

const of = schema.shape
const flap = of.seam.unwrap().options[1].shape

const withWorkshop = (lamp: Lamp, part: Workshop): Lamp => ({ ...lamp, workshop: { ...lamp.workshop, ...part } })

export function WorkshopPart() {
  const system = useUnitSystem()
  const summary = useDesign((s) => gistOf(s.lamp, system))
  return (
    <Part of="workshop" title="Workshop" summary={summary}>
      <WorkshopLink />
      <LampText
        label="Drawn by"
        description="Stands in the title block of drawings and in the book"
        read={(lamp) => workshopOf(lamp).drawnBy}
        write={(lamp, drawnBy) => withWorkshop(lamp, { drawnBy })}
      />
      <LampChoice
        label="Paper"
        segments
        options={[
          { key: 'A4', name: 'A4' },
          { key: 'Letter', name: 'Letter' },
        ]}
        description="Drawings larger than a page are tiled over several"
        read={(lamp) => workshopOf(lamp).paper}
        write={(lamp, paper) => withWorkshop(lamp, { paper })}
      />
      <Cutting />
      <Tube />
      <Ring />
      <Printer />
    </Part>
  )
}

function gistOf(lamp: Lamp, system: UnitSystem): string {
  const { paper, kerfMm } = workshopOf(lamp)
  return `${paper}, kerf ${valueText(kerfMm, 'mm', system)}${lamp.workshop ? '' : ' (typical)'}`
}

function WorkshopLink() {
  const open = useWorkshop((s) => s.open)
  return (
    <div className="parts-buttons workshop-link">
      <Button
        hint="Drawings to cut by, solids to print, the parts list, files for other shops, the order of assembly (M)"
        onPress={() => workshop.setState({ open: !open })}
      >
        {open ? 'Hide drawings and files' : 'See drawings and files…'}
      </Button>
    </div>
  )
}

interface Entry {
  label: string
  unit: Unit
  step: number
  of: z.ZodNumber
  description: string
  get(workshop: FullWorkshop): number
  set(workshop: FullWorkshop, v: number): Workshop
}

const Entries = ({ entries }: { entries: readonly Entry[] }) =>
  entries.map(({ get, set, ...rest }) => (
    <LampNumber
      key={rest.label}
      {...rest}
      read={(lamp) => get(workshopOf(lamp))}
      write={(lamp, v) => withWorkshop(lamp, set(workshopOf(lamp), v))}
    />
  ))

const sheet = of.sheetMm.unwrap().shape
const CUTTING: readonly Entry[] = [
  {
    label: 'Kerf',
    unit: 'mm',
    step: 0.05,
    of: of.kerfMm.unwrap(),
    description:
      'Width that the cutter takes away; outlines are moved out by half of it, holes in. 0: the cutter’s own program does it',
    get: (w) => w.kerfMm,
    set: (_, kerfMm) => ({ kerfMm }),
  },
  {
    label: 'Largest sheet, width',
    unit: 'mm',
    step: 10,
    of: sheet.widthMm,
    description: 'Of what you can get; a blank that is larger is refused',
    get: (w) => w.sheetMm.widthMm,
    set: (w, widthMm) => ({ sheetMm: { ...w.sheetMm, widthMm } }),
  },
  {
    label: 'Largest sheet, height',
    unit: 'mm',
    step: 10,
    of: sheet.heightMm,
    description: 'Of what you can get; a blank that is larger is refused',
    get: (w) => w.sheetMm.heightMm,
    set: (w, heightMm) => ({ sheetMm: { ...w.sheetMm, heightMm } }),
  },
  {
    label: 'Board screws',
    unit: 'mm',
    step: 0.5,
    of: of.boardScrewMm.unwrap(),
    description: 'Thread diameter of the screws that hold the boards',
    get: (w) => w.boardScrewMm,
    set: (_, boardScrewMm) => ({ boardScrewMm }),
  },
]
const Cutting = () => <Entries entries={CUTTING} />

const TUBE: readonly Entry[] = [
  {
    label: 'Tunnel sheet, thickness',
    unit: 'mm',
    step: 0.1,
    of: of.tunnelThicknessMm.unwrap(),
    description: 'The lamp’s sizes are those of the mirrored inside; a bent blank is larger by its thickness',
    get: (w) => w.tunnelThicknessMm,
    set: (_, tunnelThicknessMm) => ({ tunnelThicknessMm }),
  },
  {
    label: 'Tunnel sheet, density',
    unit: 'kg/m³',
    step: 10,
    of: of.tunnelDensityKgM3.unwrap(),
    description: 'For its mass: aluminium 2700, steel 7850, card about 800',
    get: (w) => w.tunnelDensityKgM3,
    set: (_, tunnelDensityKgM3) => ({ tunnelDensityKgM3 }),
  },
  {
    label: 'Bend, K factor',
    unit: '',
    step: 0.01,
    of: of.bendK.unwrap(),
    description: 'Where the sheet neither stretches nor shrinks in a bend, as a share of its thickness from the inside',
    get: (w) => w.bendK,
    set: (_, bendK) => ({ bendK }),
  },
]

function Tube() {
  const hasFlap = useDesign((s) => workshopOf(s.lamp).seam.kind === 'flap')
  return (
    <>
      <LampText
        label="Tunnel sheet"
        read={(lamp) => workshopOf(lamp).tunnelMaterial}
        write={(lamp, tunnelMaterial) => withWorkshop(lamp, { tunnelMaterial })}
      />
      <Entries entries={TUBE} />
      <LampChoice
        label="Seam"
        segments
        options={[
          { key: 'butt', name: 'edge on edge' },
          { key: 'flap', name: 'over a flap' },
        ]}
        description="How a blank of the tunnel is closed"
        read={(lamp) => workshopOf(lamp).seam.kind}
        write={(lamp, kind) => withWorkshop(lamp, { seam: kind === 'butt' ? { kind } : { kind, widthMm: 12 } })}
      />
      {hasFlap && (
        <LampNumber
          label="Flap, width"
          unit="mm"
          step={1}
          of={flap.widthMm}
          description="For glue or rivets"
          read={(lamp) => flapMm(lamp)}
          write={(lamp, widthMm) => withWorkshop(lamp, { seam: { kind: 'flap', widthMm } })}
        />
      )}
    </>
  )
}

function flapMm(lamp: Lamp): number | null {
  const { seam } = workshopOf(lamp)
  return seam.kind === 'flap' ? seam.widthMm : null
}

const ring = of.lensRing.unwrap().shape
const ringEntry = (
  key: keyof FullWorkshop['lensRing'],
  rest: Pick<Entry, 'label' | 'unit' | 'step' | 'description'>,
): Entry => ({
  ...rest,
  of: ring[key],
  get: (w) => w.lensRing[key],
  set: (w, v) => ({ lensRing: { ...w.lensRing, [key]: v } }),
})
const RING: readonly Entry[] = [
  ringEntry('widthMm', {
    label: 'Lens ring, width',
    unit: 'mm',
    step: 1,
    description: 'From the lens’s edge outwards',
  }),
  ringEntry('lipMm', {
    label: 'Lens ring, lip',
    unit: 'mm',
    step: 0.5,
    description: 'How far it covers the edge of the lens',
  }),
  ringEntry('heightMm', { label: 'Lens ring, height', unit: 'mm', step: 1, description: 'Along the lamp’s axis' }),
  ringEntry('screws', {
    label: 'Lens ring, screws',
    unit: '',
    step: 1,
    description: 'Evenly spread; each has a stand-off',
  }),
  ringEntry('screwMm', { label: 'Lens ring, screw size', unit: 'mm', step: 0.5, description: 'Thread diameter' }),
]
const Ring = () => <Entries entries={RING} />

const printer = of.printer.unwrap().shape
const printerEntry = (
  key: keyof FullWorkshop['printer'],
  rest: Pick<Entry, 'label' | 'unit' | 'step' | 'description'>,
): Entry => ({
  ...rest,
  of: printer[key],
  get: (w) => w.printer[key],
  set: (w, v) => ({ printer: { ...w.printer, [key]: v } }),
})
const BED = 'Printed parts that are larger are cut into pieces'
const PRINTER: readonly Entry[] = [
  printerEntry('bedXMm', { label: 'Printer bed, x', unit: 'mm', step: 5, description: BED }),
  printerEntry('bedYMm', { label: 'Printer bed, y', unit: 'mm', step: 5, description: BED }),
  printerEntry('bedZMm', { label: 'Printer, height', unit: 'mm', step: 5, description: BED }),
  printerEntry('wallMm', { label: 'Printed wall', unit: 'mm', step: 0.2, description: 'Thickness of printed walls' }),
  printerEntry('clearanceMm', {
    label: 'Printed clearance',
    unit: 'mm',
    step: 0.05,
    description: 'Gap on each side where one part slides into another',
  }),
  printerEntry('densityKgM3', {
    label: 'Printed density',
    unit: 'kg/m³',
    step: 10,
    description: 'Of the print as filled, for its mass',
  }),
]
const Printer = () => <Entries entries={PRINTER} />
