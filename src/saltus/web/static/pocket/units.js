// Between the numbers kept (SI) and those read and typed, in the athlete's units.

import { number } from "./page.js";

let units = { length: "cm", mass: "kg", m_per_unit: 0.01, kg_per_unit: 1 };

export const useUnits = (given) => { units = given; };

const SIZE = {
  mass: () => ({ factor: units.kg_per_unit, name: units.mass, digits: 2 }),
  length: () => ({ factor: units.m_per_unit, name: units.length, digits: 1 }),
  speed: () => ({ factor: 1, name: "m/s", digits: 2 }),
  milliseconds: () => ({ factor: 0.001, name: "ms", digits: 0 }),
  plain: () => ({ factor: 1, name: "", digits: 2 }),
};

// The unit in which the gym's plates are stamped.
export const platesUnit = () => units.plates ?? units.mass;

export const unitOf = (kind) => SIZE[kind]().name;

export function told(value, kind) {
  const { factor, name, digits } = SIZE[kind]();
  const figure = number(Number((value / factor).toPrecision(9)), digits);
  return name ? `${figure}\u00a0${name}` : figure;
}

// As it stands in a field to be typed over.
export function typed(value, kind) {
  if (value === null || value === undefined) return "";
  const { factor, digits } = SIZE[kind]();
  return number(Number((value / factor).toPrecision(9)), digits);
}

// What was typed, in SI; null for nothing, NaN for what is no number. "27 1/2" and "27,5" are read.
export function read(text, kind) {
  const found = text.trim().replace(",", ".").match(/^(\d+(?:\.\d+)?)?(?:\s*(\d+)\/(\d+))?$/);
  if (!text.trim()) return null;
  if (!found || (found[1] === undefined && found[2] === undefined)) return NaN;
  const part = found[2] === undefined ? 0 : Number(found[2]) / Number(found[3]);
  return (Number(found[1] ?? 0) + part) * SIZE[kind]().factor;
}
