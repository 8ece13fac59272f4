// Twin of sobolStep in src/optics/sobol.ts.
import { numbers, point, setPoint } from './memory'

/** From the point before to point `index`. */
export function sobolStep(index: i32): void {
  const at = numbers + <usize>ctz(index) * 24
  setPoint(0, point(0) ^ load<i32>(at))
  setPoint(1, point(1) ^ load<i32>(at, 4))
  setPoint(2, point(2) ^ load<i32>(at, 8))
  setPoint(3, point(3) ^ load<i32>(at, 12))
  setPoint(4, point(4) ^ load<i32>(at, 16))
  setPoint(5, point(5) ^ load<i32>(at, 20))
}
