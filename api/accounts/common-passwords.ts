/**
 * What many people choose first, written down for this program: letters and digits only, in lower case. Passwords here
 * are 15 characters or longer, so that the short favourites matter as parts that are repeated or lengthened by digits.
 */
export const commonPasswords: ReadonlySet<string> = new Set(
  `password passwort passphrase password1 passw0rd p4ssw0rd mypassword newpassword yourpassword thepassword
  passwordpassword passwordforpoursheet changeme changemenow changethispassword pleasechangeme letmein letmeinplease
  letmeinnow openthedoor opensesame welcome welcomehome welcometothemill welcomeback hello helloworld hellohello
  qwerty qwertyuiop qwertyuiopasdfgh qwertyuiopasdfghjkl qwertyqwerty qwerty123456789 asdfghjkl asdfghjklzxcvbnm
  zxcvbnm qazwsxedc qazwsxedcrfvtgb 1qaz2wsx3edc4rfv 1q2w3e4r5t6y7u8i 1q2w3e4r5t6y q1w2e3r4t5y6 azertyuiop
  qwertzuiop qwertzuiopasdfg admin administrator adminadmin administratoradmin adminpassword root rootroot
  rootpassword superuser user username usernamepassword guest guestguest test testtest testpassword testing
  testing123456789 demo demopassword demodemo default defaultpassword secret secretsecret mysecretpassword
  topsecret topsecretpassword thisisapassword thisismypassword thisisasecret thisisnotapassword idontknow
  idontknowmypassword iforgot iforgotmypassword dontforgetthis correcthorsebatterystaple correcthorsebattery
  iloveyou iloveyousomuch iloveyouforever iloveyouiloveyou iloveyoubaby iloveyou123456789 lovelove loveyou
  sunshine princess dragon monkey football baseball basketball soccer hockey superman batman pokemon starwars
  masterkey master shadow michael jennifer jordan charlie ashley daniel whatever trustno1 trustnoone
  nothinghere nopassword nopasswordneeded onetwothreefour onetwothreefourfive onetwothree abcdefghijklmno
  abcdefghijklmnop abcdefghijklmnopqrstuvwxyz abcd1234abcd1234 abc123abc123abc abc123 abcabcabc aaabbbccc
  123456789012345 1234567890123456 123456789 1234567890 12345678901234567890 012345678901234 987654321098765
  0987654321 98765432109876543210 112233445566778 11223344556677889900 123123123123123 123321123321123
  314159265358979 3141592653589793 271828182845904 summer winter spring autumn summertime january february
  monday friday gold silver goldgold goldandsilver goldmine goldmining goldfever goldrush eldorado motherlode
  nugget nuggets thereisgold theresgoldinthem theresgoldinthemhills goldsilverlead goldsilvercopper concentrate
  smelter smelting goldsmelting furnace crucible assay assayer goldassay cupel bullion dorebar goldbar goldbars
  mill themill mymill ourmill millowner themillowner goldmill stampmill poursheet poursheetpassword mypoursheet
  poursheetpoursheet owner operator accountant customer theowner theoperator theaccountant`.split(/\s+/),
);
