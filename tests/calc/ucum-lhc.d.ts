declare module '@lhncbc/ucum-lhc' {
  interface Conversion {
    status: string;
    toVal: number | null;
    msg: string[];
  }
  interface Utilities {
    convertUnitTo(fromUnit: string, value: number, toUnit: string): Conversion;
  }
  const ucum: { UcumLhcUtils: { getInstance(): Utilities } };
  export default ucum;
}
