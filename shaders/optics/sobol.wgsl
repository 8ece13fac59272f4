// Twin of src/optics/sobol.ts: the points; the scrambled numbers are made once a batch on the host.
// References: [4] I. A. Antonov, V. M. Saleev (1979), Gray order.

/// Six numbers a row, in two vectors: a row at once is one read.
var<workgroup> numbers: array<vec3u, 66>;
var<private> pointLow: vec3u;
var<private> pointHigh: vec3u;

/// Point number `index` of the batch in Gray order [4].
fn sobolAt(index: u32) {
  pointLow = numbers[64u];
  pointHigh = numbers[65u];
  var i = 0u;
  for (var g = index ^ (index >> 1u); g != 0u; g >>= 1u) {
    if ((g & 1u) != 0u) {
      pointLow ^= numbers[i];
      pointHigh ^= numbers[i + 1u];
    }
    i += 2u;
  }
}

/// From a point of block `block` to the one after it in the next, 2^k further: the bits from k up to k + m turn, m the ones at the end of
/// `block`; in Gray code that is bit k + m and bit k − 1.
fn sobolStep(block: u32, k: u32) {
  let at = 2u * (k + countOneBits(block & ~(block + 1u)));
  pointLow ^= numbers[at];
  pointHigh ^= numbers[at + 1u];
  if (k > 0u) {
    pointLow ^= numbers[2u * k - 2u];
    pointHigh ^= numbers[2u * k - 1u];
  }
}
