import { describe, expect, it } from 'vitest'
import { createRandom, randomFromState, randomOrder } from './random.ts'

describe('seeded random numbers', () => {
  it('gives the stream of xoshiro128** from the state 1, 2, 3, 4', () => {
    const random = randomFromState(1, 2, 3, 4)
    const words = Array.from({ length: 5 }, () => random.integer(2 ** 32))
    expect(words).toEqual(byTheBook([1n, 2n, 3n, 4n], 5))
    expect(words[0]).toBe(11520)
  })

  it('repeats itself for a seed, and differs for seeds next to each other or 2^32 apart', () => {
    const stream = (seed: number) => {
      const random = createRandom(seed)
      return Array.from({ length: 8 }, () => random.uniform())
    }
    expect(stream(5)).toEqual(stream(5))
    expect(stream(5)).not.toEqual(stream(6))
    expect(stream(5)).not.toEqual(stream(5 + 2 ** 32))
    for (const x of stream(0)) expect(x).toBeGreaterThan(0)
  })

  it('has the mean and spread of its laws', () => {
    const random = createRandom(99)
    const n = 200_000
    let u = 0
    let z = 0
    let zz = 0
    const faces = new Array<number>(6).fill(0)
    for (let i = 0; i < n; i++) {
      u += random.uniform()
      const x = random.normal()
      z += x
      zz += x * x
      faces[random.integer(6)]!++
    }
    expect(Math.abs(u / n - 0.5)).toBeLessThan(0.003)
    expect(Math.abs(z / n)).toBeLessThan(0.01)
    expect(Math.abs(zz / n - 1)).toBeLessThan(0.015)
    const chi = faces.reduce((sum, f) => sum + (f - n / 6) ** 2 / (n / 6), 0)
    expect(chi).toBeLessThan(20.5) // 99.9 % point of chi-square with 5 degrees of freedom
  })

  it('deals every order of three about equally often', () => {
    const random = createRandom(12)
    const seen = new Map<string, number>()
    for (let i = 0; i < 6000; i++) {
      const key = randomOrder(3, random).join('')
      seen.set(key, (seen.get(key) ?? 0) + 1)
    }
    expect(seen.size).toBe(6)
    for (const count of seen.values()) expect(Math.abs(count - 1000)).toBeLessThan(150)
  })
})

/** The published algorithm, in wide integers. */
function byTheBook(state: bigint[], length: number): number[] {
  const mask = 0xffffffffn
  const rotate = (x: bigint, k: bigint) => ((x << k) | (x >> (32n - k))) & mask
  const s = [...state]
  return Array.from({ length }, () => {
    const result = (rotate((s[1]! * 5n) & mask, 7n) * 9n) & mask
    const t = (s[1]! << 9n) & mask
    s[2]! ^= s[0]!
    s[3]! ^= s[1]!
    s[1]! ^= s[2]!
    s[0]! ^= s[3]!
    s[2]! ^= t
    s[3] = rotate(s[3]!, 11n)
    return Number(result)
  })
}
