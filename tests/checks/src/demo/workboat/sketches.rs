//! The drawings of this job, in strokes. What a stroke draws is told in
//! `draw/sketch.rs`; fasteners are counted against the fixings of their part.

pub const BOX_LID: &str = "poly 80 360 180 110 560 110 600 360; line 180 110 200 330; line 560 110 540 330; line 200 330 540 330; h0 210 140; h0 360 140; h0 520 140; h0 130 340; h0 340 345; h0 555 340";
pub const BOX_PANEL: &str = "plate 120 80 400 320 10; fin 200 150 240 180 9; h0 150 110; h0 490 110; h0 490 370; h0 150 370";
pub const BELT_GUARD: &str = "poly 150 90 300 60 500 200 520 360 430 420 180 400 120 240; fin 220 180 220 160 8; h0 180 115; h0 470 215; h0 470 375; h0 185 370";
pub const AIR_ELEMENT: &str =
    "plate 190 110 260 260 30; fin 205 120 230 240 16; axis 320 40 320 440; h0 175 240; h0 465 240";
pub const AIR_HOUSING: &str = "disc 270 240 160; bore 270 240 70; poly 420 190 520 190 520 290 420 290; end 520 240 10 0; h0 150 170; h0 390 170; h0 270 375";
pub const INLET_ELBOW: &str = "poly 110 120 350 120 350 260 300 260 300 330 160 330 160 260 110 260; bore 230 215 62; ring 230 330 50; plate 300 280 90 34 6; h0 140 150; h0 320 150; h0 140 235; h0 320 235";
pub const HEAT_SHIELD: &str = "poly 100 130 300 90 540 130 540 350 320 390 100 350; fin 180 150 280 180 6; h0 130 155; h0 510 155; h0 510 330; h0 130 330";
pub const EXHAUST_ELBOW: &str = "plate 100 90 190 240 24; bore 195 210 58; poly 290 150 430 150 470 270 470 360 370 360 370 290 290 270; end 420 175 8 -6; end 420 360 0 10; h0 130 120; h0 260 120; h0 260 300; h0 130 300";
pub const DRIVE_BELT: &str = "disc 200 300 120; ring 200 300 104; disc 430 330 80; ring 430 330 64; disc 400 130 60; ring 400 130 46; line 135 198 352 94; line 458 145 507 312; line 205 420 425 410; axis 200 160 200 440";
pub const ADJUSTER: &str = "poly 110 330 180 290 500 130 540 170 520 210 200 370 140 380; cut 330 235 470 165 484 190 345 262; h0 160 340; h1 410 212";
pub const ALTERNATOR: &str = "disc 320 230 140; ring 320 230 110; bore 320 230 34; fin 240 160 160 140 7; poly 230 340 410 340 390 420 250 420; plug 470 150; end 455 255 10 2; h0 270 395; h1 370 395";
pub const ALT_BRACKET: &str = "poly 120 110 300 110 320 220 520 300 520 380 330 350 130 350; bore 470 335 26; fin 170 180 100 120 4; h0 150 140; h0 280 140; h0 165 320; h1 300 310";
pub const HEADER_TANK: &str = "plate 130 130 380 200 50; disc 320 130 46; ring 320 130 30; plate 200 320 240 40 6; end 180 320 0 10; end 490 170 10 -3; h0 220 340; h0 320 340; h0 420 340";
pub const FILTER_LID: &str =
    "disc 320 240 150; ring 320 240 118; disc 320 240 40; h0 320 110; h0 208 305; h0 432 305";
pub const RAW_COVER: &str = "disc 320 240 165; ring 320 240 120; ring 320 240 40; h0 320 98; h0 443 169; h0 443 311; h0 320 382; h0 197 311; h0 197 169";
pub const IMPELLER: &str = "vanes 320 240 140 10; bore 320 240 24; h0 320 300";
pub const IMPELLER_FOUND: &str = "vanes 320 240 140 10; bore 320 240 24; cut 300 60 350 60 345 130 305 120; plate 470 90 30 44 8; spot 450 320; spot 325 100";
pub const RAW_PUMP: &str = "disc 290 250 130; bore 290 250 60; plate 400 205 120 90 10; end 230 140 -4 -9; end 350 140 4 -9; h0 200 170; h0 380 170; h0 380 330; h0 200 330";
pub const END_CAP_FRONT: &str = "disc 320 240 140; ring 320 240 96; plate 290 120 60 60 8; end 320 125 0 -10; h0 225 145; h0 415 145; h0 415 335; h0 225 335";
pub const TUBE_STACK: &str = "plate 90 160 460 160 20; fin 130 165 380 150 14; disc 110 240 82; bore 80 210 9; bore 110 210 9; bore 140 210 9; bore 80 250 9; bore 110 250 9; bore 140 250 9; bore 110 290 9; line 110 158 110 130; axis 40 240 610 240";

pub const THERMO_COVER: &str = "poly 320 90 500 360 140 360; ring 320 275 70; disc 320 275 40; h0 320 130; h0 450 335; h0 190 335";
pub const THERMOSTAT: &str = "disc 320 190 120; ring 320 190 92; disc 320 190 40; plate 285 240 70 150 8; fin 288 260 64 110 7; disc 320 110 8; axis 320 30 320 450";
pub const THERMO_HOUSING: &str = "poly 150 130 490 130 520 240 450 380 190 380 120 240; bore 320 250 66; end 490 200 10 -2; plug 150 215; h0 230 350; h0 410 350; h1 210 160; h1 430 160; h2 320 160";
pub const PUMP_PULLEY: &str = "disc 320 240 160; ring 320 240 146; ring 320 240 132; bore 320 240 30; h0 320 175; h0 385 240; h0 320 305; h0 255 240";
pub const COOLING_PUMP: &str = "poly 180 90 440 90 520 200 500 350 380 410 200 390 110 270 120 160; disc 320 240 90; bore 320 240 30; end 120 215 -10 0; end 505 280 9 4; h0 215 120; h0 425 120; h0 480 215; h0 150 215; h1 180 320; h1 290 385; h1 440 350";
pub const BYPASS_ELBOW: &str = "poly 140 170 400 170 400 300 140 300; bore 270 235 44; end 400 235 10 0; h0 175 235; h0 365 200";
pub const IDLER: &str = "disc 320 220 130; ring 320 220 112; ring 320 220 60; plate 280 380 80 40 4; axis 320 60 320 450; h0 320 220";
pub const DAMPER: &str = "disc 320 240 180; ring 320 240 150; bore 320 240 80; h0 320 125; h0 420 183; h0 420 297; h0 320 355; h0 220 297; h0 220 183";
pub const CRANK_PULLEY: &str = "disc 320 240 170; ring 320 240 156; ring 320 240 142; disc 320 240 60; plate 310 300 20 30 2; line 320 70 320 96; h0 320 240";
pub const MOUNT: &str = "poly 120 120 380 120 400 250 540 330 540 390 300 390 120 340; bore 480 360 20; fin 180 190 120 90 4; h0 155 150; h0 345 150; h0 155 310; h0 330 300";
pub const FILTER_HEAD: &str = "plate 150 130 280 220 20; bore 290 240 70; plug 470 160; end 430 290 10 0; h0 180 160; h0 400 160; h0 400 320; h0 180 320";
pub const LIFT_PUMP: &str = "poly 180 160 460 160 500 240 460 320 180 320 140 240; disc 320 200 80; ring 320 200 60; plate 290 320 60 90 10; end 150 220 -10 -1; end 490 220 10 -1; h0 185 240; h0 455 240";
pub const FUEL_BRACKET: &str = "plate 170 110 300 90 12; plate 220 200 200 220 40; line 220 240 420 240; end 250 115 -3 -10; end 390 115 3 -10; h0 200 175; h0 440 175";
pub const INSPECTION: &str =
    "disc 320 240 130; ring 320 240 100; h0 320 130; h0 225 295; h0 415 295";
pub const DRIVE_COVER: &str = "poly 320 70 480 170 450 380 190 380 160 170; ring 320 250 70; h0 320 105; h0 455 190; h0 425 355; h0 215 355; h0 185 190";
pub const SUMP: &str = "poly 80 140 560 140 540 220 430 250 400 370 240 370 210 250 100 220; line 100 180 540 180; h0 150 160; h0 260 160; h0 370 160; h0 480 160";
pub const FRONT_COVER: &str = "poly 170 60 470 60 540 160 520 330 420 430 220 430 120 330 100 160; bore 320 300 60; ring 320 300 84; disc 230 160 44; h0 200 85; h1 320 80; h0 440 85; h1 505 150; h0 515 230; h1 500 320; h0 415 405; h2 365 370; h2 275 370; h0 225 405; h1 140 320; h0 125 230; h1 135 150; h3 160 110; h3 470 370";
pub const GEAR_PLATE: &str =
    "disc 320 240 140; bore 320 240 50; h0 320 145; h0 238 288; h0 402 288";
pub const IDLER_GEAR: &str = "teeth 320 240 150 32; ring 320 240 90; bore 320 240 40; disc 430 240 7; disc 225 185 7; disc 215 200 7";
pub const PUNCH_MARKS: &str = "teeth 200 320 80 16; bore 200 320 20; teeth 340 210 95 20; bore 340 210 26; teeth 500 130 75 16; bore 500 130 20; disc 262 268 6; disc 425 165 6; disc 500 208 6; spot 262 268; spot 425 165; spot 500 208";
