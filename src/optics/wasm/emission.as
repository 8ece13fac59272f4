// Twin of src/optics/emission.ts, what every kernel needs of it: the same bits.
import * as C from './constants'
import { emitters, single } from './memory'

export function whichEmitter(u: f64, count: i32): i32 {
  const scaled = u * <f64>count
  const at = min(<i32>scaled, count - 1)
  const share = single(emitters, at * C.E_size + C.E_aliasShare)
  return scaled - <f64>at < share ? at : <i32>single(emitters, at * C.E_size + C.E_alias)
}
