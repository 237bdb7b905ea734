package orders

// A spellingGroup is lengths as people type them: what is understood, in mm, or a piece of what is asked back.
type spellingGroup struct {
	group, question string
	understood      map[string]float64
	asked           map[string]string
}

// spellings is the table that the parser is held to. Add a line here before changing it.
var spellings = []spellingGroup{
	{"centimetres", "girth", map[string]float64{
		"57": 570, "57 cm": 570, "57cm": 570, "57 CM": 570, "57 Cm.": 570, "57cms": 570, "57 centimetres": 570, "57 centimeters": 570,
		"57.5": 575, "57,5": 575, "57,5 cm": 575, "57.5cm": 575, "57·5 cm": 575, "57.50": 575, "57,0": 570, "057": 570, "57.": 570,
		"57 1/2": 575, "57½": 575, "57 ½ cm": 575, "57 and a half cm": 575, "57 cm and a half": 575, "57 3/10 cm": 573,
		"57 cm 5 mm": 575, "57cm 5mm": 575, "57 cm, ": 570, "57-cm": 570, "+57": 570,
	}, nil},
	{"millimetres and metres", "girth", map[string]float64{
		"570": 570, "570mm": 570, "570 mm": 570, "570 millimetres": 570, "570.5 mm": 570.5, "570,5": 570.5,
		"0.57": 570, "0,57 m": 570, ".57 m": 570, ",57m": 570, "0.570 metres": 570, "0,570": 570,
	}, nil},
	{"groups of three figures: only one way to take them is possible", "girth", map[string]float64{
		"57.500": 575, "57,500 cm": 575, "570.000": 570, "570,000 mm": 570,
	}, nil},
	{"inches", "girth", map[string]float64{
		"22": 558.8, "22 in": 558.8, "22in.": 558.8, "22 ins": 558.8, "22 inch": 558.8, "22 inches": 558.8, "22-inch": 558.8, "22 INCHES": 558.8,
		`22"`: 558.8, "22”": 558.8, "22“": 558.8, "22″": 558.8, "22''": 558.8, "22’’": 558.8, "22′′": 558.8, "22＂": 558.8,
		"22.5": 571.5, "22,5": 571.5, "22.5 in": 571.5, `22.5"`: 571.5,
		"22 1/2": 571.5, `22 1/2"`: 571.5, "22 1/2 in": 571.5, "22-1/2": 571.5, "22-1/2 in": 571.5, "22 - 1/2 in": 571.5, "22  1/2  in": 571.5,
		"22 1 / 2 in": 571.5, "22 1⁄2 in": 571.5, "22 1∕2 in": 571.5, "22½": 571.5, "22½ in": 571.5, "22 ½″": 571.5, "22¹⁄₂ in": 571.5, "22¹/₂": 571.5,
		`22" 1/2`: 571.5, "22in 1/2": 571.5, "22 in 1/2 in": 571.5, "22 inches 1/2": 571.5,
		"22 and a half inches": 571.5, "22 and a half": 571.5, "22 & a half in": 571.5, "22 and 1/2 in": 571.5, "22 + 1/2 in": 571.5, "22 inches and a half": 571.5,
		"22 1/4 in": 565.15, "22¼": 565.15, "22 and a quarter inches": 565.15,
		"22 3/4 in": 577.85, "22¾ in": 577.85, "22 and three quarters": 577.85, "22 and 3 quarters in": 577.85, "22 and three-quarter inches": 577.85,
		"22 1/8": 561.975, "22⅛ in": 561.975, "22 and an eighth": 561.975, "22 7/8 in": 581.025, "22⅞": 581.025, "22 and seven eighths": 581.025,
		"22 5/8 in": 574.675, "22 3/16 in": 563.5625, "22 15/32 in": 570.70625, "22 1/3 in": 567.2666, "22⅔ in": 575.7333,
	}, nil},
	{"feet", "girth", map[string]float64{
		"1 ft 10 1/2": 571.5, "1 ft 10 1/2 in": 571.5, "1ft10.5in": 571.5, `1' 10 1/2"`: 571.5, `1'10"`: 558.8, "1′10½″": 571.5, "1’ 10½”": 571.5,
		"1 foot 10 inches": 558.8, "1 foot and 10 inches": 558.8, "1'10": 558.8, "1.875 ft": 571.5, "1 7/8 feet": 571.5,
	}, nil},
	{"other figures", "girth", map[string]float64{
		"５７": 570, "５７．５": 575, "５７．５ｃｍ": 575, "５７㎝": 570, "５７０㎜": 570, "２２　１／２": 571.5, "٥٧": 570, "٥٧٫٥": 575, "۵۷ cm": 570, "५७ cm": 570, "৫৭": 570,
	}, nil},
	{"said in two ways that agree", "girth", map[string]float64{
		"57cm / 22.4in": 570, "57 cm / 22 1/2 in": 570, "57cm/22.5\"": 570, "57 cm (22 1/2 in)": 570, "57 cm = 22.44 in": 570, "57 cm or 22 1/2 inches": 570,
		"22 1/2 in / 57 cm": 571.5, "22½″ (57 cm)": 571.5, "57 / 22.5": 570, "57, 22.5": 570, "570 mm | 22½ in": 570,
	}, nil},
	{"words around it", "girth", map[string]float64{
		"about 57": 570, "~57 cm": 570, "≈ 57 cm": 570, "approx. 57 cm": 570, "ca. 57 cm": 570, "it is 57 cm": 570, "It's 57": 570, "I got 57.5 cm!": 575,
		"my head is 57 cm round": 570, "the tape says 22 1/2": 571.5, "size 57": 570, "  57  ": 570, "57\u00a0cm": 570, "57\u2009cm": 570, "57\tcm": 570,
	}, nil},
	{"nothing there", "girth", nil, map[string]string{
		"cm": "unit without a number", "inches": "unit without a number", "?": "don't understand “?”", "no idea": "don't understand “no”", "/": "no number", "about": "no number",
	}},
	{"not figures", "girth", nil, map[string]string{
		"NaN": "“nan”", "Inf": "“inf”", "-Infinity": "“infinity”", "∞": "“∞”", "0x39": "“x”", "5.7e2": "“e”", "1e3": "“e”", "1E+9": "“e”", "57_000": "“_”",
		"57,5,5": "figures “57,5,5”", "5.7.0": "figures “5.7.0”", "57,22.5": "figures “57,22.5”", "1.23,4.5": "figures", "99999999999999999999": "figures",
		"57 kg": "“kg”", "57%": "“%”", "57 ± 1": "“±”", "57\u0301x": "don't understand",
	}},
	{"what can't be", "girth", nil, map[string]string{
		"0": "can't be right", "0 cm": "can't be right", "-57": "less than nothing", "−57 cm": "less than nothing", "-22 1/2 in": "less than nothing",
		"44.9 cm": "can't be right", "70.1": "can't be right", "5700": "can't be right", "1/2": "can't be right", "half an inch": "can't be right", "1,234,567 mm": "can't be right",
	}},
	{"the wrong unit, with the right one named", "girth", nil, map[string]string{
		"22 cm": "Did you mean inches, so 55.9 cm (22 in)?", "22.5cm": "Did you mean inches", "22 1/2 cm": "Did you mean inches, so 57.2 cm (22 1/2 in)?",
		"57 in": "Did you mean centimetres, so 57.0 cm", `57"`: "Did you mean centimetres", "57 mm": "Did you mean centimetres", "57 m": "Did you mean centimetres",
		"570 cm": "Did you mean millimetres", "570 in": "Did you mean millimetres", "22'": "Did you mean inches", "22 ft": "Did you mean inches", "22 mm": "Did you mean inches",
	}},
	{"more than one", "girth", nil, map[string]string{
		"57 58": "more than one number", "57 5": "more than one number", "57cm5": "more than one number", "22 1/2 1/4": "more than one number", "57 8/8": "more than one number", "57 cm 1 cm": "more than one number", "5 70": "more than one number",
		"57cm22in": "more than one number", "57-58": "range", "57 - 58 cm": "range", "56 to 57": "range", "57–58": "range", "57-": "range",
		"57, 58, 57": "more than one length", "57/57.5": "two lengths", "57 or 58": "two lengths", "22 in / 22 1/2 in": "two lengths", "1 ft 14 in": "too large to go with",
	}},
	{"said in two ways that do not agree", "girth", nil, map[string]string{
		"57cm / 23in": "not the same", "57 cm (22 in)": "not the same", "57 / 22": "not the same", "22 in, 57 cm": "not the same", "57 cm = 57 in": "can't be right",
	}},
	{"hat sizes whose kind is not said, and letters", "girth", nil, map[string]string{
		"7 1/8": "which kind", "7⅛": "which kind", "hat size 7": "which kind", "7.125": "which kind", "22 1/7 in": "more than one",
	}},
	{"heights", "height", map[string]float64{
		"168": 1680, "168 cm": 1680, "1.68": 1680, "1,68 m": 1680, "1 m 68": 1680, "1m68": 1680, "1 m 68 cm": 1680, "1.680": 1680, "1,680 mm": 1680, "1.680,0 mm": 1680, "1,680.0 mm": 1680,
		"5 ft 6": 1676.4, "5'6": 1676.4, `5'6"`: 1676.4, "5’6”": 1676.4, "5 foot 6": 1676.4, "5ft6in": 1676.4, "5 feet 6 1/2 inches": 1689.1, "66": 1676.4, "66 in": 1676.4, "5.5 ft": 1676.4,
	}, map[string]string{
		"5.6": "can't be right", "5 6": "more than one number", "5": "can't be right", "30": "can't be right", "12 ft": "can't be right", "1m168": "too large to go with",
	}},
	{"French", "girth", map[string]float64{
		"57 centimètres": 570, "57 centimetres": 570, "57,5 centimètres": 575, "570 millimètres": 570, "0,57 mètre": 570, "57 centime\u0300tres": 570, "57 CENTIMÈTRES": 570,
		"22 pouces": 558.8, "22 pouces et demi": 571.5, "22 pouces 1/2": 571.5, "22 et demi pouces": 571.5, "22,5 pouces": 571.5, "22 po": 558.8, "22 ½ po": 571.5,
		"22 pouces et quart": 565.15, "22 pouces trois quarts": 577.85, "22 pouces et trois quarts": 577.85, "22 pouces un huitième": 561.975, "22 pouces sept huitièmes": 581.025,
		"56 et demi": 565, "56 cm et demi": 565, "56 et demie": 565, "cinquante-six": 560, "cinquante-sept et demi": 575, "cinquante et un": 510, "cinquante sept virgule cinq": 575,
		"57 virgule 5": 575, "environ 57 cm": 570, "à peu près 57": 570, "mon tour de tête est 57 cm": 570, "tour de tête : 57 cm": 570, "c'est 57": 570, "J’ai 57 cm": 570, "le ruban fait 57,5": 575,
		"57 cm, soit 22,4 pouces": 570, "57 cm ou 22 pouces et demi": 570, "1 pied 10 pouces": 558.8, "1 pied 10 pouces et demi": 571.5,
	}, map[string]string{
		"56 à 57": "more than one number", "57 ou 58": "two lengths", "57 pouces": "Did you mean centimetres", "57 moins le quart": "“moins”", "pouces": "unit without a number", "environ": "no number",
		"57 cm ou 21 pouces": "not the same", "soixante-dix-neuf": "range",
	}},
	{"Spanish", "girth", map[string]float64{
		"57 centímetros": 570, "57 centimetros": 570, "57,5 centímetros": 575, "570 milímetros": 570, "0,57 metros": 570,
		"22 pulgadas": 558.8, "22 pulgadas y media": 571.5, "22 y media pulgadas": 571.5, "22 pulgadas 1/2": 571.5, "22 1/2 pulg.": 571.5, "22,5 pulgadas": 571.5, "22 plg": 558.8,
		"22 pulgadas y cuarto": 565.15, "22 pulgadas y tres cuartos": 577.85, "22 pulgadas y un octavo": 561.975, "22 pulgadas y siete octavos": 581.025,
		"56 y medio": 565, "56 y media": 565, "56 cm y medio": 565, "cincuenta y seis": 560, "cincuenta y seis y medio": 565, "cincuenta y siete coma cinco": 575, "veintidós pulgadas y media": 571.5,
		"57 coma 5": 575, "57 punto 5": 575, "unos 57 cm": 570, "más o menos 57": 570, "aproximadamente 57 cm": 570, "mi cabeza mide 57 cm": 570, "contorno de cabeza: 57": 570, "es 57": 570,
		"57 cm o 22,4 pulgadas": 570, "57 cm, es decir 22,4 pulgadas": 570, "1 pie 10 pulgadas": 558.8, "1 pie y 10 pulgadas y media": 571.5,
	}, map[string]string{
		"56 a 57": "more than one number", "57 o 58": "two lengths", "57 pulgadas": "Did you mean centimetres", "57 menos un cuarto": "“menos”", "pulgadas": "unit without a number",
		"57 cm o 23 pulgadas": "not the same", "entre 56 y 57": "“entre”",
	}},
	{"numbers in words, as a telephone writes them down", "girth", map[string]float64{
		"fifty seven": 570, "fifty-seven centimetres": 570, "fifty seven and a half": 575, "fifty seven point five": 575, "57 point 5": 575, "twenty-two": 558.8, "twenty two and a half inches": 571.5,
		"twenty two and three quarters": 577.85, "twenty-two and seven eighths inches": 581.025, "Twenty-two-and-a-half inches": 571.5, "one foot ten": 558.8, "one foot ten and a half inches": 571.5,
		"sixty": 600, "fifty": 500, "twenty-three inches and five eighths": 600.075,
	}, map[string]string{
		"five seven": "more than one number", "two hundred": "“hundred”", "seven": "which kind", "fifty seven fifty eight": "more than one number", "22 less an eighth": "“less”",
	}},
	{"other writings", "girth", map[string]float64{
		"๕๗": 570, "௫௭": 570, "౫౭ cm": 570, "༥༧": 570, "၅၇": 570, "៥៧": 570, "𝟱𝟳": 570, "٥٧ cm": 570, "५७.५": 575, "۵۷٫۵": 575, "２２½": 571.5, "２２″": 558.8, "22㏌": 558.8,
		"22〞": 558.8, "22½״": 571.5,
	}, map[string]string{
		"五十七": "don't understand", "LVII": "“lvii”", "५७-५८": "range",
	}},
}
