// SHA-256 by hand, because a page from a file or a plain local network has no crypto.subtle.

const K = new Uint32Array(64), START = new Uint32Array(8)
{
  // the first 32 bits behind the point of the roots of the first primes, as the standard defines them
  let found = 0
  for (let n = 2; found < 64; n++) {
    let prime = true
    for (let d = 2; d * d <= n; d++) if (n % d === 0) { prime = false; break }
    if (!prime) continue
    const behind = root => Math.floor((root - Math.floor(root)) * 4294967296)
    if (found < 8) START[found] = behind(Math.sqrt(n))
    K[found++] = behind(Math.cbrt(n))
  }
}

/** Take in bytes piece by piece, and give the hash as hex. */
export class Sha256 {
  constructor() {
    this.h = START.slice()
    this.rest = new Uint8Array(64)
    this.kept = 0
    this.length = 0
    this.w = new Uint32Array(64)
  }

  add(bytes) {
    this.length += bytes.length
    let at = 0
    if (this.kept) {
      at = Math.min(64 - this.kept, bytes.length)
      this.rest.set(bytes.subarray(0, at), this.kept)
      this.kept += at
      if (this.kept < 64) return this
      this.block(this.rest, 0)
      this.kept = 0
    }
    for (; at + 64 <= bytes.length; at += 64) this.block(bytes, at)
    this.rest.set(bytes.subarray(at))
    this.kept = bytes.length - at
    return this
  }

  block(bytes, at) {
    const { w, h } = this
    for (let i = 0; i < 16; i++, at += 4) w[i] = bytes[at] << 24 | bytes[at + 1] << 16 | bytes[at + 2] << 8 | bytes[at + 3]
    for (let i = 16; i < 64; i++) {
      const p = w[i - 15], q = w[i - 2]
      w[i] = w[i - 16] + w[i - 7] + ((p >>> 7 | p << 25) ^ (p >>> 18 | p << 14) ^ p >>> 3) + ((q >>> 17 | q << 15) ^ (q >>> 19 | q << 13) ^ q >>> 10)
    }
    let [a, b, c, d, e, f, g, i] = h
    for (let n = 0; n < 64; n++) {
      const one = i + ((e >>> 6 | e << 26) ^ (e >>> 11 | e << 21) ^ (e >>> 25 | e << 7)) + (e & f ^ ~e & g) + K[n] + w[n] | 0
      const two = ((a >>> 2 | a << 30) ^ (a >>> 13 | a << 19) ^ (a >>> 22 | a << 10)) + (a & b ^ a & c ^ b & c) | 0
      i = g; g = f; f = e; e = d + one | 0; d = c; c = b; b = a; a = one + two | 0
    }
    h[0] += a; h[1] += b; h[2] += c; h[3] += d; h[4] += e; h[5] += f; h[6] += g; h[7] += i
  }

  hex() {
    const bits = this.length * 8, pad = new Uint8Array((this.kept < 56 ? 56 : 120) - this.kept + 8)
    pad[0] = 128
    new DataView(pad.buffer).setUint32(pad.length - 8, Math.floor(bits / 4294967296))
    new DataView(pad.buffer).setUint32(pad.length - 4, bits >>> 0)
    this.add(pad)
    return Array.from(this.h, v => v.toString(16).padStart(8, '0')).join('')
  }
}

/** Hash a blob, a megabyte at a time. */
export async function hashOf(blob) {
  const sha = new Sha256()
  for (let at = 0; at < blob.size; at += 1048576) sha.add(new Uint8Array(await bytesOf(blob.slice(at, at + 1048576))))
  return sha.hex()
}

/** The bytes of a blob, on old telephones too. */
export function bytesOf(blob) {
  if (blob.arrayBuffer) return blob.arrayBuffer()
  return new Promise((done, fail) => {
    const reader = new FileReader()
    reader.onload = () => done(reader.result)
    reader.onerror = () => fail(reader.error)
    reader.readAsArrayBuffer(blob)
  })
}

/** Thirty-two hexadecimal figures by chance. */
export const mark = () => Array.from(crypto.getRandomValues(new Uint8Array(16)), b => b.toString(16).padStart(2, '0')).join('')
