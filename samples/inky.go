package samples

// Inky are words with accents on capitals, cedillas, descenders and underscores.
var Inky = []string{"pump_gjqy", "ÅÇŽ", "Ångström_quay", "Łukasz Žigmundsdóttir", "Насос_Йод", "Άγκυρα", "JB_21"}
