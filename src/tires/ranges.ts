/** What the figures of this room can be; what lies outside was misread or mistyped. Common practice, no source, where none is named. */

import { range } from '../quantity/index.ts';

/** The cold pressure of a tire, its wheel and its label: nothing on a trailer or a pickup holds more than 125 psi (from memory). */
export const COLD_PRESSURE = range(0, 150, 'psi');
/** A gauge's reading: below zero it is answered with the reason why no tire shows it. */
export const GAUGE_READING = range(-150, 150, 'psi');
/** What one wheel carries: half of the 20,000 lb that one axle may put on a public road (23 CFR 658.17, from memory). */
export const WHEEL_LOAD = range(0, 10_000, 'lb');
/** What one axle carries, by the same rule. */
export const AXLE_LOAD = range(0, 20_000, 'lb');
/** Two axles side by side, by the same rule. */
export const TANDEM_LOAD = range(0, 34_000, 'lb');
/** The share of a load that one side carries. Beyond, the trailer would lie on its side. */
export const SIDE_SHARE = range(10, 90, '%');
/** Heights at which roads lie, with room to spare (quantity: the standard atmosphere as used here). */
export const ELEVATION = range(-600, 9000, 'm');
/** Air around a tire, and a tire in the sun: −60 to 85 °C. */
export const TIRE_TEMPERATURE = range(-60, 85, 'degC');
/** Any speed on a public road, twice over. */
export const ROAD_SPEED = range(0, 170, 'mph');
/** Inside volume of one tire: from a wheelbarrow's to a heavy truck's. */
export const TIRE_VOLUME = range(0, 20, 'ft3');
export const RECEIVER_VOLUME = range(0, 120, 'gal');
export const RECEIVER_PRESSURE = range(0, 250, 'psi');
/** From a hand pump to a shop's compressor. */
export const AIR_DELIVERY = range(0, 100, 'ft3/min');
export const COMPRESSOR_POWER = range(0, 20_000, 'W');
export const PUMPING_TIME = range(0, 24, 'h');
export const DUTY_CYCLE = range(1, 100, '%');
