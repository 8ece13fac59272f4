// Files of a lamp's solids, away from the page's thread: a lamp of hundreds of boards takes the kernel a second or two.
import type { Handlers } from '../../engine/workers/calls.ts'
import { type GlbFile, partGlb, partStl, type StlFiles } from '../../files/solidFiles.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { Kernel } from '../../solids/kernel.ts'
import { type MadePart, makePart, type PartName } from '../../solids/parts.ts'

interface Args {
  lamp: Lamp
  name: PartName
}

export type SolidCalls = {
  meshes: { args: Args; event: never; result: MadePart }
  stl: { args: Args; event: never; result: StlFiles }
  glb: { args: Args; event: never; result: GlbFile }
}

/** `load`: once, with the first call; a kernel that could not be loaded is tried again. */
export function makeSolidService(load: () => Promise<Kernel>): Handlers<SolidCalls> {
  let loaded: Promise<Kernel> | null = null
  const kernel = () => {
    loaded ??= load().catch((error: unknown) => {
      loaded = null
      throw error
    })
    return loaded
  }
  return {
    meshes: async ({ lamp, name }) => makePart(await kernel(), lamp, name),
    stl: async ({ lamp, name }) => partStl(await kernel(), lamp, name),
    glb: async ({ lamp, name }) => partGlb(await kernel(), lamp, name),
  }
}
