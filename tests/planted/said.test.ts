// The lamp's own light, and the sun that is mirrored or thrown back (said.ts).
import { CLASSES } from './lamps.ts'
import { expectSaid } from './said.ts'

const SUN_ALONE = ['inside', 'beside', 'behind', 'shortTunnel']

expectSaid(CLASSES.filter((name) => !SUN_ALONE.includes(name)))
