// The parts that light meets after the optics, and those that it doesn't meet.
import { ElementsPart } from './ElementsPart.tsx'
import { HeatPart } from './HeatPart.tsx'
import { LensPart } from './LensPart.tsx'
import { NotePart } from './NotePart.tsx'
import { PowerPart } from './PowerPart.tsx'
import { ReadingPart } from './ReadingPart.tsx'
import { TunnelPart } from './TunnelPart.tsx'
import { WorkshopPart } from './WorkshopPart.tsx'

export function LowerParts() {
  return (
    <>
      <TunnelPart />
      <LensPart />
      <ElementsPart />
      <HeatPart />
      <PowerPart />
      <ReadingPart />
      <WorkshopPart />
      <NotePart />
    </>
  )
}
