// Twin of src/optics/turn.ts: built-in sines are good to three digits by the standard, these series to seven.
// References: [1] Taylor series on ±π/4; [2] atan on [0, 1] by its odd minimax polynomial of degree 11 (error below 2e-6 rad).

const TURN = 6.283185307179586;

/// Cosine and sine of 2π·u, u in [0, 1].
fn turnOf(u: f32) -> vec2f {
  let quarter = i32(4.0 * u + 0.5);
  let cs = quarterTurn((4.0 * u - f32(quarter)) * 1.5707963267948966);
  let odd = (quarter & 1) != 0;
  let c = select(cs.x, -cs.y, odd);
  let s = select(cs.y, cs.x, odd);
  let back = (quarter & 2) != 0;
  return select(vec2f(c, s), vec2f(-c, -s), back);
}

/// The same of 24 random bits: (n + ½)/2²⁴ of a turn. Which quarter it is and how far off its middle are whole numbers, and exact.
fn turnOfDraw(bits24: u32) -> vec2f {
  let u = i32(2u * bits24 + 1u); // of 2²⁵ to the turn
  let quarter = (u + (1 << 22u)) >> 23u;
  let cs = quarterTurn(f32(u - (quarter << 23u)) * (1.5707963267948966 / 8388608.0));
  let odd = (quarter & 1) != 0;
  let c = select(cs.x, -cs.y, odd);
  let s = select(cs.y, cs.x, odd);
  let back = (quarter & 2) != 0;
  return select(vec2f(c, s), vec2f(-c, -s), back);
}

/// Cosine and sine of x, |x| ≤ π/4 [1].
fn quarterTurn(x: f32) -> vec2f {
  let q = x * x;
  return vec2f(
    1.0 + q * (-0.5 + q * (1.0 / 24.0 + q * (-1.0 / 720.0 + q * (1.0 / 40320.0)))),
    x * (1.0 + q * (-1.0 / 6.0 + q * (1.0 / 120.0 + q * (-1.0 / 5040.0 + q * (1.0 / 362880.0))))),
  );
}

/// Share of a turn, [0, 1), of the direction (x, y): for bins [2].
fn shareOfTurn(x: f32, y: f32) -> f32 {
  let ax = abs(x);
  let ay = abs(y);
  let steep = ay > ax;
  let big = max(ax, ay);
  if (big == 0.0) { return 0.0; }
  let t = min(ax, ay) / big;
  let q = t * t;
  var a = t * (0.99997726 + q * (-0.33262347 + q * (0.19354346 + q * (-0.11643287 + q * (0.05265332 - 0.0117212 * q))))) * 0.15915494309189535;
  if (steep) { a = 0.25 - a; }
  if (x < 0.0) { a = 0.5 - a; }
  if (y < 0.0 && a != 0.0) { a = 1.0 - a; }
  return a;
}
