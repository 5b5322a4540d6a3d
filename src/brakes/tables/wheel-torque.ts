/**
 * Torque of wheel nuts as published, in two stages and final.
 *
 * Every row was seen in the document named. A trailer owner's web page that prints 150 lb-ft for steel wheels contradicts the
 * maker and is left out. The handbook of the trailer or its axle outranks every row.
 */

export type Span = readonly [low: number, high: number];

export interface WheelTorqueRow {
  /** The wheel or axle as the source names it. */
  readonly wheel: string;
  /** Rim diameters in inches it holds for; none where the source gives none. */
  readonly diameters: readonly number[];
  /** Stud in inches (`1/2`) or metric (`M12`); empty where the source gives none. */
  readonly stud: string;
  readonly material: 'steel' | 'aluminium' | 'any';
  readonly nut: 'cone' | 'flange' | 'any';
  readonly stages: readonly Span[];
  readonly final: Span;
  readonly unit: 'lb-ft' | 'N-m';
  /** Miles after which to torque again; none where the source gives none. */
  readonly recheckMiles: readonly number[];
  readonly source: string;
}

const SOURCES: Readonly<Record<string, string>> = {
  axleMaker: 'an axle maker’s owner’s manual, wheel torque chart (Lippert, 2014)',
  wheelChart: 'a wheel torque chart (Cerka)',
  equipmentMaker: 'an equipment maker’s trailer maintenance table (Multiquip)',
  cargoTrailerMaker: 'a cargo trailer maker’s owner’s manual (Wells Cargo)',
  travelTrailerMaker: 'one travel trailer maker’s support article and manuals of 2020 to 2024',
  travelTrailerMakerOlder: 'one travel trailer maker’s older user manual, page D-14',
  travelTrailerMaker1975: 'one travel trailer maker’s manual of 1975',
  caravanMakerA: 'a caravan maker’s handbook (Swift)',
  caravanMakerB: 'a caravan maker’s handbook (Bailey)',
  caravanMakerC: 'a caravan maker’s handbook (Lunar)',
};

/** wheel | diameters | stud | material | nut | stages | final | unit | miles | source */
const TABLE = `
14 in|14|1/2|any|any|20-25 50-60|90-120|lb-ft|10 25 50|axleMaker
15 in|15|1/2|any|any|20-25 50-60|90-120|lb-ft|10 25 50|axleMaker
16 in|16|1/2|any|any|20-25 50-60|90-120|lb-ft|10 25 50|axleMaker
16.5 x 6.75|16.5|1/2|any|any|20-25 50-60|90-120|lb-ft|10 25 50|axleMaker
16 in|16|9/16|any|any|20-25 60-70|120-130|lb-ft|10 25 50|axleMaker
16.5 x 6.75|16.5|9/16|any|any|20-25 60-70|120-130|lb-ft|10 25 50|axleMaker
16 in dual / 17.5 in cone nut|16 17.5|5/8|any|cone|50-60 100-120|190-210|lb-ft|10 25 50|axleMaker
16 in dual / 17.5 in flange nut|16 17.5|5/8|any|flange|50-60 150-200|275-325|lb-ft|10 25 50|axleMaker
14.5 in demount|14.5|5/8|any|any||85-95|lb-ft|10 25 50|axleMaker
12 in|12||any|any|20-25 35-40|50-60|lb-ft|10 25 50|wheelChart
13 in|13||any|any|20-25 35-40|50-60|lb-ft|10 25 50|wheelChart
14 in|14||any|any|20-25 50-60|90-120|lb-ft|10 25 50|wheelChart
15 in|15||any|any|20-25 50-60|90-120|lb-ft|10 25 50|wheelChart
16 in|16||any|any|20-25 50-60|90-120|lb-ft|10 25 50|wheelChart
16.5 x 6.75|16.5||any|any|20-25 50-60|90-120|lb-ft|10 25 50|wheelChart
16.5 x 9.75|16.5||any|any|55-60 120-125|175-225|lb-ft|10 25 50|wheelChart
17.5 in hub pilot clamp ring and cone nut|17.5||any|cone|50-60 100-120|190-220|lb-ft|10 25 50|wheelChart
17.5 in hub pilot 5/8 flange nut|17.5|5/8|any|flange|50-60 90-200|275-325|lb-ft|10 25 50|wheelChart
12 in|12||any|any|20-25 35-40|50-65|lb-ft||equipmentMaker
13 in|13||any|any|20-25 35-40|50-65|lb-ft||equipmentMaker
13 in on 2000 lb axle|13|1/2|steel|any|20-25 40-50|50-75|lb-ft|10 25 50|cargoTrailerMaker
14 in on 2000 lb axle|14|1/2|steel|any|20-25 40-50|90-120|lb-ft|10 25 50|cargoTrailerMaker
15 in on 2000 lb axle|15|1/2|steel|any|20-25 40-50|90-120|lb-ft|10 25 50|cargoTrailerMaker
15 in on 2000 lb axle|15|1/2|aluminium|any|20-25 40-50|90-120|lb-ft|10 25 50|cargoTrailerMaker
13 in on 3500 lb axle|13|1/2|steel|any|20-25 40-50|50-75|lb-ft|10 25 50|cargoTrailerMaker
15 in on 3500 lb axle|15|1/2|steel|any|20-25 40-50|90-120|lb-ft|10 25 50|cargoTrailerMaker
15 in on 3500 lb axle|15|1/2|aluminium|any|20-25 40-50|90-120|lb-ft|10 25 50|cargoTrailerMaker
15 in on 5000 lb axle|15|1/2|steel|any|20-25 40-50|90-120|lb-ft|10 25 50|cargoTrailerMaker
15 in on 5000 lb axle|15|1/2|aluminium|any|20-25 40-50|90-120|lb-ft|10 25 50|cargoTrailerMaker
15 in on 6000 lb axle|15|1/2|steel|any|20-25 40-50|90-120|lb-ft|10 25 50|cargoTrailerMaker
15 in on 6000 lb axle|15|1/2|aluminium|any|20-25 40-50|90-120|lb-ft|10 25 50|cargoTrailerMaker
16 in on 6000 lb axle|16|1/2|steel|any|20-25 40-50|90-120|lb-ft|10 25 50|cargoTrailerMaker
16 in on 6000 lb axle|16|1/2|aluminium|any|20-25 40-50|90-120|lb-ft|10 25 50|cargoTrailerMaker
16 in on 7000 lb axle|16|1/2|steel|any|20-25 40-50|90-120|lb-ft|10 25 50|cargoTrailerMaker
16 in on 7000 lb axle|16|1/2|aluminium|any|20-25 40-50|90-120|lb-ft|10 25 50|cargoTrailerMaker
16 in on 7000 lb axle|16|9/16|steel|any|20-25 40-50|90-120|lb-ft|10 25 50|cargoTrailerMaker
16 in on 7000 lb axle|16|9/16|aluminium|any|20-25 40-50|90-120|lb-ft|10 25 50|cargoTrailerMaker
16 in on 7000 lb axle|16|5/8|steel|any|20-25 40-50|275-325|lb-ft|10 25 50|cargoTrailerMaker
16 in on 7000 lb axle|16|5/8|aluminium|any|20-25 40-50|275-325|lb-ft|10 25 50|cargoTrailerMaker
17.5 in on 8000 lb axle|17.5|5/8|steel|any|20-25 40-50|275-325|lb-ft|10 25 50|cargoTrailerMaker
17.5 in on 8000 lb axle|17.5|5/8|aluminium|any|20-25 40-50|275-325|lb-ft|10 25 50|cargoTrailerMaker
15 in|15|1/2|aluminium|any||110|lb-ft|10 25 50|travelTrailerMaker
15 in|15|1/2|steel|any||100|lb-ft|10 25 50|travelTrailerMaker
Classic trailer (older manual)||1/2|aluminium|any||100|lb-ft|10 25 50|travelTrailerMakerOlder
Classic trailer (older manual)||1/2|steel|any||95|lb-ft|10 25 50|travelTrailerMakerOlder
1975 models||1/2|any|any||90-95|lb-ft||travelTrailerMaker1975
caravan 5-bolt||M12|steel|any||88|N-m|30|caravanMakerA
caravan 5-bolt||M12|aluminium|any||130|N-m|30|caravanMakerA
caravan||M12|steel|any||120|N-m|30|caravanMakerB
caravan||M12|aluminium|any||130|N-m|30|caravanMakerB
caravan||M12|steel|any||88|N-m|15|caravanMakerC
caravan||M12|aluminium|any||115|N-m|15|caravanMakerC
`;

function span(text: string): Span {
  const [low, high] = text.split('-').map(Number);
  return [low!, high ?? low!];
}

function row(line: string): WheelTorqueRow {
  const [wheel, diameters, stud, material, nut, stages, final, unit, miles, source] = line.split('|') as [
    string,
    string,
    string,
    string,
    string,
    string,
    string,
    string,
    string,
    string,
  ];
  const list = (text: string) => text.split(' ').filter((word) => word !== '');
  return {
    wheel,
    diameters: list(diameters).map(Number),
    stud,
    material: material as WheelTorqueRow['material'],
    nut: nut as WheelTorqueRow['nut'],
    stages: list(stages).map(span),
    final: span(final),
    unit: unit as WheelTorqueRow['unit'],
    recheckMiles: list(miles).map(Number),
    source: SOURCES[source]!,
  };
}

export const wheelTorques: readonly WheelTorqueRow[] = TABLE.trim().split('\n').map(row);
