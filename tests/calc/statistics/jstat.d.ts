declare module 'jstat' {
  interface Distribution {
    cdf(x: number, ...parameters: number[]): number;
    inv(p: number, ...parameters: number[]): number;
  }
  const jstat: {
    normal: Distribution;
    studentt: Distribution;
    chisquare: Distribution;
    centralF: Distribution;
  };
  export default jstat;
}
