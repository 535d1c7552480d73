#include "textflag.h"

// order puts what VPACKSSDW and VPACKUSWB laid out by halves of a register back in order.
DATA order<>+0(SB)/4, $0
DATA order<>+4(SB)/4, $4
DATA order<>+8(SB)/4, $1
DATA order<>+12(SB)/4, $5
DATA order<>+16(SB)/4, $2
DATA order<>+20(SB)/4, $6
DATA order<>+24(SB)/4, $3
DATA order<>+28(SB)/4, $7
GLOBL order<>(SB), RODATA|NOPTR, $32

// func addRows(to *int32, table *int8, offsets *int32, count, blocks, shift int)
TEXT ·addRows(SB), NOSPLIT, $0-48
	MOVQ to+0(FP), DI
	MOVQ table+8(FP), SI
	MOVQ offsets+16(FP), DX
	MOVQ count+24(FP), R8
	MOVQ blocks+32(FP), R9
	MOVQ shift+40(FP), X7

block:
	VPXOR Y0, Y0, Y0
	VPXOR Y1, Y1, Y1
	MOVQ  DX, R10
	MOVQ  R8, R11

row:
	MOVL      (R10), R12
	VPMOVSXBW (SI)(R12*1), Y2
	VPMOVSXBW 16(SI)(R12*1), Y3
	VPADDW    Y2, Y0, Y0
	VPADDW    Y3, Y1, Y1
	ADDQ      $4, R10
	DECQ      R11
	JNZ       row

	VPMOVSXWD    X0, Y2
	VEXTRACTI128 $1, Y0, X0
	VPMOVSXWD    X0, Y3
	VPMOVSXWD    X1, Y4
	VEXTRACTI128 $1, Y1, X1
	VPMOVSXWD    X1, Y5
	VPSLLD       X7, Y2, Y2
	VPSLLD       X7, Y3, Y3
	VPSLLD       X7, Y4, Y4
	VPSLLD       X7, Y5, Y5
	VMOVDQU      Y2, (DI)
	VMOVDQU      Y3, 32(DI)
	VMOVDQU      Y4, 64(DI)
	VMOVDQU      Y5, 96(DI)
	ADDQ         $32, SI
	ADDQ         $128, DI
	DECQ         R9
	JNZ          block
	VZEROUPPER
	RET

// func clip(to *uint8, from *int32, blocks, shift int, half int32)
TEXT ·clip(SB), NOSPLIT, $0-36
	MOVQ         to+0(FP), DI
	MOVQ         from+8(FP), SI
	MOVQ         blocks+16(FP), R9
	MOVQ         shift+24(FP), X7
	MOVL         half+32(FP), AX
	VMOVD        AX, X6
	VPBROADCASTD X6, Y6
	VPXOR        Y8, Y8, Y8
	VPCMPEQD     Y9, Y9, Y9
	VPSRLD       $25, Y9, Y9         // 127, what passes on at most
	VMOVDQU      order<>(SB), Y10

block:
	VPADDD    (SI), Y6, Y0
	VPADDD    32(SI), Y6, Y1
	VPADDD    64(SI), Y6, Y2
	VPADDD    96(SI), Y6, Y3
	VPSRAD    X7, Y0, Y0
	VPSRAD    X7, Y1, Y1
	VPSRAD    X7, Y2, Y2
	VPSRAD    X7, Y3, Y3
	VPMAXSD   Y8, Y0, Y0
	VPMAXSD   Y8, Y1, Y1
	VPMAXSD   Y8, Y2, Y2
	VPMAXSD   Y8, Y3, Y3
	VPMINSD   Y9, Y0, Y0
	VPMINSD   Y9, Y1, Y1
	VPMINSD   Y9, Y2, Y2
	VPMINSD   Y9, Y3, Y3
	VPACKSSDW Y1, Y0, Y0
	VPACKSSDW Y3, Y2, Y2
	VPACKUSWB Y2, Y0, Y0
	VPERMD    Y0, Y10, Y0
	VMOVDQU   Y0, (DI)
	ADDQ      $128, SI
	ADDQ      $32, DI
	DECQ      R9
	JNZ       block
	VZEROUPPER
	RET

// func addProducts(to *int32, weights *int8, in *uint8, fours, eights, shift int)
TEXT ·addProducts(SB), NOSPLIT, $0-48
	MOVQ     to+0(FP), DI
	MOVQ     weights+8(FP), SI
	MOVQ     in+16(FP), DX
	MOVQ     fours+24(FP), R8
	MOVQ     eights+32(FP), R9
	MOVQ     shift+40(FP), X7
	VPCMPEQW Y4, Y4, Y4
	VPSRLW   $15, Y4, Y4     // 1 in each word

eight:
	VPXOR Y0, Y0, Y0
	MOVQ  DX, R10
	MOVQ  R8, R11

four:
	VPBROADCASTD (R10), Y1
	VPMADDUBSW   (SI), Y1, Y2 // two products each: 2·127·128 at most, which a word holds
	VPMADDWD     Y4, Y2, Y2
	VPADDD       Y2, Y0, Y0
	ADDQ         $4, R10
	ADDQ         $32, SI
	DECQ         R11
	JNZ          four

	VPSLLD  X7, Y0, Y0
	VPADDD  (DI), Y0, Y0
	VMOVDQU Y0, (DI)
	ADDQ    $32, DI
	DECQ    R9
	JNZ     eight
	VZEROUPPER
	RET
