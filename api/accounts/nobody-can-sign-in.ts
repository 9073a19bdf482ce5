/** Thrown at the start when others could reach the program and nobody has an account that opens it. */
export class NobodyCanSignInError extends Error {
  override name = 'NobodyCanSignInError';
  constructor() {
    super(
      'Others can reach Poursheet with these settings, and there is no account yet that it could ask for. ' +
        'Make the owner’s account first, with the same --data, --empty or --database:\n\n' +
        '  npm start -- --make-owner\n\n' +
        'It asks for a name and a password. Then start again as you did.',
    );
  }
}
