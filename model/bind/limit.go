package bind

const MostTerminals = 2000 // of one part, and of one span
